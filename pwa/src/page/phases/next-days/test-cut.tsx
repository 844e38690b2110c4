import type { CutTested } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { Button, Choice, Notice } from '../../look'
import { now } from '../../shell/now'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { momentOf, whoWhen } from '../who'
import { tryAgainAt } from './state'

type Result = CutTested['result']
const RESULTS: readonly Result[] = ['clean', 'slight', 'ravels']

/** A short cut first: one touch says how its edges stand, and what to do. */
export function TestCut({ job }: { readonly job: JobView }) {
  const last = job.test_cuts[job.test_cuts.length - 1]
  const saw = job.cuts[job.cuts.length - 1]?.saw ?? job.crew?.saw_kind ?? 'conventional'
  const again = last ? tryAgainAt(last) : null
  const waits = again !== null && again > now.value
  const save = (result: Result): void => void act(job.id, 'cut.tested', { result, saw }, t('nextDays.did.test', { result: t(`nextDays.test.${result}`) }))
  return (
    <div class="stack">
      {last && (
        <Notice tone={last.result === 'clean' ? 'plain' : 'warn'} title={again ? t(waits ? 'nextDays.testWait' : 'nextDays.testAgain', { result: t(`nextDays.test.${last.result}`), at: momentOf(job, again.toISOString()) }) : t('nextDays.testGo')}>
          <p class="soft">{whoWhen(job, last)}</p>
          <Button kind="quiet" label={`${t('record.takeBack')}: ${t(`nextDays.test.${last.result}`)}`} onPress={() => void takeBack(job.id, last.event, t('nextDays.did.gone'))}>{t('record.takeBack')}</Button>
        </Notice>
      )}
      <Choice label={t('nextDays.testFirst')} value={null} options={RESULTS.map((result) => ({ value: result, label: t(`nextDays.test.${result}`), hint: t(`nextDays.testDo.${result}`) }))} onPick={save} />
    </div>
  )
}
