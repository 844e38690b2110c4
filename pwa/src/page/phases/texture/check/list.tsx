import type { Check, JobView } from '../../../../shared/job'
import { Button } from '../../../look'
import { t } from '../../../words'
import { takeBack } from '../../act'
import { whoWhen } from '../../who'
import { checkWord } from '../state'
import { depthWords } from './keys'

const LATEST = 6

/** The latest checks, and what each says. */
export function CheckList({ job }: { readonly job: JobView }) {
  const latest = [...job.checks].sort((a, b) => b.at.localeCompare(a.at)).slice(0, LATEST)
  return (
    <section class="block" aria-labelledby="checks">
      <h2 id="checks">{t('texture.checks')}</h2>
      {latest.length === 0 ? <p>{t('texture.noChecks')}</p> : <ul class="rows">{latest.map((check) => <CheckRow key={check.event} job={job} check={check} />)}</ul>}
    </section>
  )
}

function CheckRow({ job, check }: { readonly job: JobView; readonly check: Check }) {
  const load = job.loads.find((one) => one.id === check.load)
  const bay = job.bays.find((one) => one.id === check.bay)
  const words = [t(`texture.kind.${check.kind}`), check.depth_mm === null ? null : check.depth_mm === 0 ? t('texture.noMark') : depthWords(check.depth_mm)].filter(Boolean).join(' ')
  return (
    <li>
      <span>
        <strong>{bay ? t('layout.bay', { label: bay.label }) : load ? t('layout.load', { number: load.number }) : ''}</strong> {words}. {t(`texture.says.${checkWord(check)}`)}
        <br />
        <span class="soft">{whoWhen(job, check)}</span>
      </span>
      <Button kind="quiet" label={`${t('record.takeBack')}: ${words}`} onPress={() => void takeBack(job.id, check.event, t('texture.did.checkGone'))}>{t('record.takeBack')}</Button>
    </li>
  )
}
