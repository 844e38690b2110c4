import { useState } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { Button, Choice, Notice } from '../../look'
import { unsent } from '../../log/journal'
import { online } from '../../shell/online'
import { language, units, type Language } from '../../shell/preferences'
import { sayError } from '../../shell/trouble'
import { t } from '../../words'
import { mayWrite } from '../who'
import { savePaper, type Paper } from './documents'

const LEADS = ['foreman', 'office']

/** The record for the owner and for the file, and the export: made by the server, so they want a signal. */
export function PapersPart({ job }: { readonly job: JobView }) {
  const [tongue, setTongue] = useState<Language>(language.peek())
  const [busy, setBusy] = useState<Paper | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  if (!mayWrite(LEADS)) return null
  const save = async (paper: Paper): Promise<void> => {
    setBusy(paper)
    try {
      await savePaper(job.id, paper, tongue, units.value)
      setProblem(null)
    } catch (error) {
      setProblem(sayError(error))
    }
    setBusy(null)
  }
  const press = (paper: Paper): void => void save(paper)
  const off = busy !== null || !online.value
  return (
    <section class="block no-print" aria-labelledby="papers">
      <h2 id="papers">{t('record.papers')}</h2>
      {!online.value && <p>{t('record.papersOffline')}</p>}
      {unsent.value.count > 0 && <Notice tone="warn" title={t('record.papersUnsent', { count: unsent.value.count })} />}
      {problem !== null && <Notice tone="stop" title={problem} announce />}
      <Choice label={t('record.papersLanguage')} value={tongue} options={[{ value: 'en', label: 'English' }, { value: 'es', label: 'Español' }]} onPick={setTongue} />
      <Button wide disabled={off} onPress={() => press('owner')}>{t(busy === 'owner' ? 'record.papersMaking' : 'record.forOwner')}</Button>
      <Button wide disabled={off} onPress={() => press('file')}>{t(busy === 'file' ? 'record.papersMaking' : 'record.forFile')}</Button>
      <Button wide disabled={off} onPress={() => press('export')}>{t(busy === 'export' ? 'record.papersMaking' : 'record.export')}</Button>
    </section>
  )
}
