import type { JobView } from '../../shared/job'
import { sayMoment, sayRange } from '../look'
import { now } from '../shell/now'
import type { LoadTimeline, Timeline } from '../sync/contract'
import { t } from '../words'
import { sawBeside, type Beside } from './saw-close'
import './saw-beside.css'

/** Each load's saw times, the first to end first: ours and the handbooks' side by side, and which of them counts. */
export function SawBeside({ job, timeline }: { readonly job: JobView; readonly timeline: Timeline | null }) {
  const loads = timeline?.loads ?? []
  const found = loads.flatMap((load, index) => {
    const beside = sawBeside(load)
    return beside ? [{ load, place: index + 1, beside }] : []
  })
  const [first, ...others] = found.sort((a, b) => ending(a.beside) - ending(b.beside))
  if (!first) return null
  const early = job.crew?.saw_kind === 'early-entry'
  return (
    <section class="stack saw-beside" aria-labelledby={`beside-${job.id}`}>
      <h3 id={`beside-${job.id}`}>{t('practice.title')}</h3>
      <LoadBeside job={job} {...first} />
      {others.length > 0 && (
        <details class="beside-others">
          <summary>{t('practice.others', { count: others.length })}</summary>
          {others.map((one) => <LoadBeside key={one.load.id} job={job} {...one} />)}
        </details>
      )}
      <p class="soft">{t('practice.why')}</p>
      <p class="soft">{t(early ? 'practice.source.early' : 'practice.source.conventional')}</p>
    </section>
  )
}

const ending = ({ opens, closes }: Beside): number => (closes ?? opens).at.getTime()

interface LoadBesideProps {
  readonly job: JobView
  readonly load: LoadTimeline
  /** Its place in line, where it has no number. */
  readonly place: number
  readonly beside: Beside
}

function LoadBeside({ job, load, place, beside }: LoadBesideProps) {
  const { ours, handbook, opens, closes, cooled } = beside
  const number = job.loads.find((one) => one.id === load.id)?.number ?? place
  const zone = job.opened?.time_zone ?? 'UTC'
  const at = (iso: string): string => sayMoment(new Date(iso), now.value, zone)
  const used = (by: 'ours' | 'handbook' | undefined, mine: 'ours' | 'handbook'): string | null => (by === mine ? t('practice.used') : null)
  return (
    <table class="beside-table">
      <caption>{t('layout.load', { number })}</caption>
      <thead>
        <tr>
          <td />
          <th scope="col">{t('practice.ours')}</th>
          <th scope="col">{t('practice.handbook')}</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">{t('practice.opens')}</th>
          <Cell time={ours && at(ours.opens.likely)} more={ours && sayRange(ours.opens, now.value, zone)} used={used(opens.by, 'ours')} />
          <Cell time={handbook && at(handbook.opens)} used={used(opens.by, 'handbook')} />
        </tr>
        <tr>
          <th scope="row">{t('practice.closes')}</th>
          <Cell time={ours?.closes ? at(ours.closes.likely) : null} more={ours?.closes ? sayRange(ours.closes, now.value, zone) : null} used={used(closes?.by, 'ours')} />
          <Cell time={handbook && at(handbook.closes)} more={cooled ? t('practice.cooled') : null} used={used(closes?.by, 'handbook')} />
        </tr>
      </tbody>
      {closes && (
        <tfoot>
          <tr>
            <td colSpan={3}><strong>{t('practice.goBy', { opens: at(opens.at.toISOString()), closes: at(closes.at.toISOString()) })}</strong></td>
          </tr>
        </tfoot>
      )}
    </table>
  )
}

function Cell({ time, more, used }: { readonly time: string | null; readonly more?: string | null; readonly used: string | null }) {
  return (
    <td>
      <span class="time">{time ?? t('practice.none')}</span>
      {more && <span class="soft"> ({more})</span>}
      {used && <strong class="beside-used">{used}</strong>}
    </td>
  )
}
