/** Papers of a job, made by the server and saved on this device. */
import type { JobId } from '../../../shared/events'
import type { UnitSystem } from '../../../shared/units'
import type { Language } from '../../shell/preferences'
import { call } from '../../sync/call'

export type Paper = 'owner' | 'file' | 'export'

/** Where the server makes a paper of a job. */
export function paperPath(job: JobId, paper: Paper, language: Language, system: UnitSystem): string {
  if (paper === 'export') return `/api/jobs/${job}/export.json`
  return `/api/jobs/${job}/record.pdf?for=${paper}&language=${language}&units=${system}`
}

/** The file name the server gave, or a plain one. */
export function nameIn(disposition: string | null, otherwise: string): string {
  return /filename="([\w.-]+)"/.exec(disposition ?? '')?.[1] ?? otherwise
}

/** Fetches a paper and hands it to the person as a file. Throws CallFailed. */
export async function savePaper(job: JobId, paper: Paper, language: Language, system: UnitSystem): Promise<void> {
  const answer = await call(paperPath(job, paper, language, system))
  const name = nameIn(answer.headers.get('Content-Disposition'), paper === 'export' ? 'job.json' : 'record.pdf')
  const url = URL.createObjectURL(await answer.blob())
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}
