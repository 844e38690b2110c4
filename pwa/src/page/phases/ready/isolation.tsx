import type { AbuttingEdge, JobView, Joint } from '../../../shared/job'
import { formatLength } from '../../../shared/units'
import { Empty, LinkButton, Notice, Tick } from '../../look'
import { distance, sides } from '../../plan/geometry'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act } from '../act'
import { Checklist } from '../checklist'
import { Frame } from '../frame'
import { JobPlan } from '../job-plan'
import { sayShort } from '../quantity'
import { QuantityField } from '../quantity-field'
import { momentOf, nameOf } from '../who'

/** The isolation joint: every face that stands against something, full depth and without a gap. */
export function IsolationList({ job }: { readonly job: JobView }) {
  const faces = (job.slab?.abutting ?? []).filter((face) => !face.bonded)
  return (
    <Frame job={job} phase="ready" list title={t('ready.list.isolation')}>
      {faces.length === 0 ? (
        <Empty title={t('ready.iso.none')} action={<LinkButton href={`#/job/${job.id}/layout`}>{t('ready.iso.toLayout')}</LinkButton>}>
          <p>{t('ready.iso.noneDo')}</p>
        </Empty>
      ) : (
        <>
          <Checklist job={job} list="isolation" ticksOnly />
          {faces.map((face) => <Face key={face.edge} job={job} face={face} />)}
          <JobPlan job={job} states={false} />
        </>
      )}
    </Frame>
  )
}

function Face({ job, face }: { readonly job: JobView; readonly face: AbuttingEdge }) {
  const joint = job.joints.find((one) => one.edge === face.edge)
  const side = sides(job.slab?.corners ?? [])[face.edge]
  const put = (part: Partial<Pick<Joint, 'full_depth' | 'continuous' | 'depth_m'>>): void =>
    void act(job.id, 'joint.checked', { edge: face.edge, full_depth: joint?.full_depth ?? false, continuous: joint?.continuous ?? false, depth_m: joint?.depth_m ?? null, note: joint?.note ?? null, ...part }, t('ready.did.joint', { against: face.against }))
  const who = joint ? { by: nameOf(joint.author), at: momentOf(job, joint.at) } : {}
  const thickness = job.slab?.thickness_m ?? 0
  return (
    <section class="block" aria-label={face.against}>
      <h2>{t('ready.iso.face', { against: face.against, length: side ? formatLength(distance(side[0], side[1]), units.value) : '' })}</h2>
      <Tick label={t('ready.iso.full', { depth: sayShort(thickness, units.value) })} done={joint?.full_depth ?? false} {...who} onTick={() => put({ full_depth: true })} onUndo={() => put({ full_depth: false })} />
      <Tick label={t('ready.iso.continuous')} done={joint?.continuous ?? false} {...who} onTick={() => put({ continuous: true })} onUndo={() => put({ continuous: false })} />
      <QuantityField label={t('ready.iso.depth')} quantity="depth" value={joint?.depth_m} min={0} max={2} onCommit={(depth_m) => put({ depth_m })} />
      {joint?.depth_m != null && joint.depth_m < thickness - 0.003 && <Notice tone="warn" title={t('ready.iso.shallow', { depth: sayShort(joint.depth_m, units.value) })} />}
    </section>
  )
}
