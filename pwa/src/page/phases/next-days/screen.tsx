import type { JobView } from '../../../shared/job'
import { Empty, LinkButton } from '../../look'
import { NextLine } from '../../now'
import { SawBeside } from '../../now/saw-beside'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { Frame } from '../frame'
import { Covers } from '../covers'
import { HeatCare } from '../heat'
import { JobPlan } from '../job-plan'
import { pinMarks } from '../pins'
import { ColourPart, CoatPart, WashPart } from './after'
import { Reminders } from './reminders'
import { SawPart } from './saw'
import './style.css'

/** Saw, wash, second colour, seal: each with its window, its caution and its entry. */
export function NextDaysScreen({ job }: { readonly job: JobView }) {
  return (
    <Frame job={job} phase="next-days" title={t('nextDays.title')} next={job.loads.length > 0 && <NextLine job={job} place="next_days" />}>
      {job.loads.length === 0 && (
        <Empty title={t('nextDays.noLoads')} action={<LinkButton href={`#/job/${job.id}/pour`}>{t('texture.toPour')}</LinkButton>}>
          <p>{t('nextDays.noLoadsDo')}</p>
        </Empty>
      )}
      <Reminders job={job} />
      <div class="split">
        <div class="stack">
          <SawPart job={job} />
          <SawBeside job={job} timeline={outlook.value?.jobs[job.id]?.timeline ?? null} />
          <Covers job={job} />
          <JobPlan job={job} marks={pinMarks(job)} />
        </div>
        <div class="stack">
          <WashPart job={job} />
          <ColourPart job={job} />
          <CoatPart job={job} />
          <HeatCare job={job} />
        </div>
      </div>
    </Frame>
  )
}
