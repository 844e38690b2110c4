import { LISTS, progress } from '../../../shared/checklists'
import { ROLES } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { DecideLinks } from '../../decide/links'
import { Button, Notice } from '../../look'
import { NextLine } from '../../now'
import { go } from '../../shell/route'
import { t } from '../../words'
import { act } from '../act'
import { ListLink } from '../checklist'
import { Frame } from '../frame'
import { JobPlan } from '../job-plan'
import { dayTimeOf, mayWrite } from '../who'

const READY_LISTS = LISTS.slice(0, 3)

/** Forms, isolation joint, slope: what must be right before the truck is called. */
export function ReadyScreen({ job }: { readonly job: JobView }) {
  const all = progress(job)
  const open = READY_LISTS.reduce((sum, list) => sum + all[list].total - all[list].done, 0)
  const start = async (): Promise<void> => {
    if (await act(job.id, 'stage.reached', { phase: 'pour' }, t('ready.did.go'))) go(`#/job/${job.id}/pour`)
  }
  const footer = mayWrite(ROLES['stage.reached']) && (job.phase === 'layout' || job.phase === 'ready') && (
    <Button kind={open ? 'plain' : 'main'} wide onPress={() => void start()}>{open ? t('ready.goOpen', { open }) : t('ready.go')}</Button>
  )
  return (
    <Frame job={job} phase="ready" title={t('ready.title')} next={<NextLine job={job} place="ready" />} footer={footer}>
      {job.order ? <p>{t('ready.firstTruck', { at: dayTimeOf(job, job.order.pour_at) })}</p> : <Notice title={t('ready.noOrder')} />}
      <DecideLinks job={job} hours />
      <ul class="rows">{READY_LISTS.map((list) => <ListLink key={list} job={job} list={list} />)}</ul>
      {job.slab ? <JobPlan job={job} states={false} marks={job.forms.map((point) => ({ id: point.id, spot: point.spot, label: point.label, kind: 'form' as const }))} /> : <Notice title={t('ready.noSlab')} />}
      {READY_LISTS.some((list) => all[list].total === 0) && <p>{t('ready.noFaces')}</p>}
    </Frame>
  )
}
