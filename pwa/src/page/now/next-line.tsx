import type { JobView } from '../../shared/job';
import { StateMark, sayState } from '../look';
import { now } from '../shell/now';
import { outlook } from '../sync/outlook';
import { nextStep, type StepPlace } from './step';
import './style.css';

/** First on a job's screen: what to do next, by when, how long is left. */
export function NextLine({ job, place }: { job: JobView; place: StepPlace }) {
  const step = nextStep(place, job, outlook.value?.jobs[job.id], outlook.value?.reminders ?? [], now.value);
  return (
    <div class={`now-lead${step.state ? ` now-lead-${step.state}` : ''}`}>
      <p class="big-time">{step.head}</p>
      {(step.tail || step.state) && (
        <p class="now-lead-tail">
          {step.state && <StateMark state={step.state} />} {step.tail}
          {step.state && <span class="visually-hidden"> {sayState(step.state)}</span>}
        </p>
      )}
    </div>
  );
}
