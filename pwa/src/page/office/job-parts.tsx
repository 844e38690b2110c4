import type { ComponentChildren } from 'preact';
import { LISTS, listProgress } from '../../shared/checklists';
import type { JobView } from '../../shared/job';
import { formatTemp, formatVolume } from '../../shared/units';
import { Progress, TideStrip, sayMoment } from '../look';
import { nameRow, OutlookState } from '../now/job-card';
import { WatchFor } from '../now/notices';
import { SawBeside } from '../now/saw-beside';
import { dayStrip, handStrip, sawStrip } from '../now/strips';
import { Plan } from '../plan/plan';
import { units } from '../shell/preferences';
import type { Reminder, Timeline } from '../sync/contract';
import { t } from '../words';
import type { Told } from './far-job';
import { zoneOf } from './say';

interface PartProps {
  title: string;
  wide?: boolean;
  children: ComponentChildren;
}

/** One titled part of the job's page. */
export function Part({ title, wide, children }: PartProps) {
  return (
    <section class={`panel stack${wide ? ' office-wide' : ''}`} aria-label={title}>
      <h2>{title}</h2>
      {children}
    </section>
  );
}

/** The tide strips of every load, and what the times rest on. */
export function Hours({ job, told, now }: { job: JobView; told: Told; now: Date }) {
  const { look, problem } = told;
  const timeline = look?.timeline ?? null;
  return (
    <Part title={t('office.hours')} wide>
      {(look?.planned || timeline?.planned) && <p class="soft">{t('office.planned')}</p>}
      {problem && <p role="alert">{problem}</p>}
      {timeline && <Strips job={job} timeline={timeline} reminders={told.reminders} now={now} />}
      {!timeline && !problem && <p>{t('office.hours.none')}</p>}
      {look && <OutlookState job={job} look={look} now={now} />}
    </Part>
  );
}

function Strips({ job, timeline, reminders, now }: { job: JobView; timeline: Timeline; reminders: readonly Reminder[]; now: Date }) {
  const timeZone = zoneOf(job.id);
  const strips = [
    [t('now.strip.hand', { job: job.name }), handStrip(job, timeline, now, nameRow, true)],
    [t('now.strip.saw', { job: job.name }), sawStrip(job, timeline, now, nameRow, true)],
    [
      t('office.strip.days', { job: job.name }),
      dayStrip(job, timeline, reminders, now, nameRow),
    ],
  ] as const;
  return (
    <>
      {strips.map(
        ([title, strip]) =>
          strip && <TideStrip key={title} {...strip} now={now} timeZone={timeZone} title={title} />,
      )}
      <SawBeside job={job} timeline={timeline} />
      <WatchFor job={job} timeline={timeline} now={now} all />
    </>
  );
}

/** How far each of the six lists is. */
export function Checklists({ job }: { job: JobView }) {
  return (
    <Part title={t('office.lists')}>
      {LISTS.map((list) => {
        const { done, total } = listProgress(job, list);
        return <Progress key={list} label={t(`office.list.${list}`)} done={done} total={total} />;
      })}
    </Part>
  );
}

/** Every load: its ticket, when it was batched and placed, how much and how warm. */
export function Loads({ job, now }: { job: JobView; now: Date }) {
  const at = (iso: string) => sayMoment(new Date(iso), now, zoneOf(job.id));
  const columns = ['number', 'ticket', 'batched', 'placed_at', 'volume', 'temp'] as const;
  return (
    <Part title={t('office.loads')}>
      {job.loads.length === 0 && <p>{t('office.loads.none')}</p>}
      {job.loads.length > 0 && (
        <div class="scroll-x" tabIndex={0} role="group" aria-label={t('office.loads')}>
          <table class="office-table">
            <thead>
              <tr>
                {columns.map((column) => (
                  <th key={column} scope="col">
                    {t(`office.col.${column}`)}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {job.loads.map((load) => (
                <tr key={load.id}>
                  <th scope="row">{load.number}</th>
                  <td>{load.ticket ?? '–'}</td>
                  <td>{at(load.batched_at)}</td>
                  <td>
                    {load.placed
                      ? t('look.tide.range', { early: at(load.placed.from), late: at(load.placed.to) })
                      : '–'}
                  </td>
                  <td>{formatVolume(load.volume_m3, units.value)}</td>
                  <td>
                    {load.concrete_temp_c === null ? '–' : formatTemp(load.concrete_temp_c, units.value)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </Part>
  );
}

/** The slab drawn to scale, with its bays and its open pins. */
export function PlanPart({ job }: { job: JobView }) {
  const { slab } = job;
  const open = job.pins.filter((pin) => pin.open);
  const marks = open.map((pin, index) => ({
    id: pin.id,
    spot: pin.spot,
    label: String(index + 1),
    kind: 'pin' as const,
  }));
  return (
    <Part title={t('office.plan')}>
      {!slab && <p>{t('office.plan.none')}</p>}
      {slab && <Plan outline={slab.corners} abutting={slab.abutting} bays={job.bays} marks={marks} />}
      {open.length > 0 && (
        <ol>
          {open.map((pin) => (
            <li key={pin.id}>{[t(`pour.pin.${pin.what}`), pin.note].filter(Boolean).join(': ')}</li>
          ))}
        </ol>
      )}
    </Part>
  );
}
