import { useEffect, useState } from 'preact/hooks'
import { jobs } from '../../log/journal'
import { Button, LinkButton, sayMoment } from '../../look'
import { now } from '../../shell/now'
import { route } from '../../shell/route'
import { t } from '../../words'
import { byUrgency, type Signal } from './events'
import { dismiss, said, startSignals } from './start'
import './style.css'

/** What was signalled, in words, over any screen. The region always stands, so that it is read out when something comes. */
export function SignalBanner() {
  useEffect(startSignals, [])
  const [all, setAll] = useState(false)
  const lines = byUrgency(said.value)
  const rest = lines.length - 1
  const open = all && rest > 0
  return (
    <div class="signals" role="status">
      {(open ? lines : lines.slice(0, 1)).map((one) => <Line key={one.id} one={one} />)}
      {rest > 0 && <Button wide expanded={open} onPress={() => setAll(!open)}>{open ? t('signal.fewer') : t('signal.more', { count: rest })}</Button>}
    </div>
  )
}

function Line({ one }: { readonly one: Signal }) {
  const words = sayIt(one)
  return (
    <div class={`signal signal-${one.what}`}>
      <p><strong>{words}</strong></p>
      <div class="actions">
        <Button label={`${t('signal.ok')}: ${words}`} onPress={() => dismiss(one.id)}>{t('signal.ok')}</Button>
        {!isOpen(one) && <LinkButton href={`#/job/${one.job}/texture`}>{t('signal.open')}</LinkButton>}
      </div>
    </div>
  )
}

const isOpen = ({ job }: Signal): boolean => {
  const here = route.value
  return here.at === 'job' && here.job === job && here.phase === 'texture'
}

function sayIt({ what, job, bay, load, closes }: Signal): string {
  const of = jobs.value.find(({ id }) => id === job)
  const where = bay === null ? t('signal.load', { number: load }) : t('signal.bay', { label: bay })
  const named = jobs.value.filter((one) => !one.closed).length > 1 ? `${of?.name ?? ''}. ${where}` : where
  return t(`signal.${what}`, { where: named, time: sayMoment(closes, now.value, of?.opened?.time_zone ?? 'UTC') })
}
