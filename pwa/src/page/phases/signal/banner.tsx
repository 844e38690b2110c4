import { useEffect } from 'preact/hooks'
import { jobs } from '../../log/journal'
import { Bar, Button, LinkButton, sayMoment } from '../../look'
import { now } from '../../shell/now'
import { route } from '../../shell/route'
import { t } from '../../words'
import { byUrgency, type Signal } from './events'
import { dismiss, said, startSignals } from './start'
import './style.css'

/** The most urgent signal in one line over any screen, all of them behind a touch. The region always stands, so that it is read out when something comes. */
export function SignalBanner() {
  useEffect(startSignals, [])
  const lines = byUrgency(said.value)
  const [first, ...others] = lines
  return (
    <div role="status">
      {first && (
        <Bar key={`${first.id} ${JSON.stringify(route.value)}`} tone={first.what === 'closing' ? 'stop' : 'due'} line={sayShort(first)} more={others.length} action={<Taken one={first} />}>
          <ul class="bare signals">{lines.map((one) => <Line key={one.id} one={one} taken={one !== first} />)}</ul>
        </Bar>
      )}
    </div>
  )
}

function Taken({ one }: { readonly one: Signal }) {
  return <Button label={`${t('signal.ok')}: ${sayIt(one)}`} onPress={() => dismiss(one.id)}>{t('signal.ok')}</Button>
}

function Line({ one, taken }: { readonly one: Signal; readonly taken: boolean }) {
  return (
    <li class="signal">
      <p>{sayIt(one)}</p>
      <div class="actions">
        {!isOpen(one) && <LinkButton href={`#/job/${one.job}/texture`}>{t('signal.open')}</LinkButton>}
        {taken && <Taken one={one} />}
      </div>
    </li>
  )
}

const isOpen = ({ job }: Signal): boolean => {
  const here = route.value
  return here.at === 'job' && here.job === job && here.phase === 'texture'
}

const severalJobs = (): boolean => jobs.value.filter((one) => !one.closed).length > 1

interface Told { readonly where: string; readonly job: string; readonly time: string }

function tell({ job, bay, load, closes }: Signal): Told {
  const of = jobs.value.find(({ id }) => id === job)
  const where = bay === null ? t('signal.load', { number: load }) : t('signal.bay', { label: bay })
  return { where, job: of?.name ?? '', time: sayMoment(closes, now.value, of?.opened?.time_zone ?? 'UTC') }
}

/** For one line: what comes last is what a narrow phone cuts off. */
function sayShort(one: Signal): string {
  const { where, job, time } = tell(one)
  const short = t(`signal.short.${one.what}`, { where, time })
  return severalJobs() ? `${short} · ${job}` : short
}

function sayIt(one: Signal): string {
  const { where, job, time } = tell(one)
  return t(`signal.${one.what}`, { where: severalJobs() ? `${job}. ${where}` : where, time })
}
