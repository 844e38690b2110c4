import type { JobView } from '../../../shared/job'
import { formatLength } from '../../../shared/units'
import { Notice } from '../../look'
import { sharedLength } from '../../plan/bays'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { say } from '../quantity'
import { Facts } from './section'
import { ASPECT_MOST, checkPanels, jointGuidance } from './take-off'

/** Spacing and depth of contraction joints for this thickness, and which bays would need one more. Guidance, not a drawing. */
export function Joints({ job }: { readonly job: JobView }) {
  const { slab } = job
  if (!slab) return null
  const guide = jointGuidance(slab.thickness_m)
  const panels = job.bays.length ? job.bays : [{ label: t('layout.joints.whole'), corners: slab.corners }]
  const flagged = checkPanels(panels, slab.thickness_m).filter((panel) => panel.flags.length > 0)
  const between_m = sharedLength(job.bays.map((bay) => bay.corners), slab.corners)
  return (
    <section class="block" aria-labelledby="joints">
      <h2 id="joints">{t('layout.joints.title')}</h2>
      <Facts
        rows={[
          [t('layout.joints.spacing'), t('layout.joints.range', { least: formatLength(guide.spacing_least_m, units.value), most: formatLength(guide.spacing_most_m, units.value) })],
          [t('layout.joints.depth'), say(guide.depth_m, 'depth', units.value)],
          [t('layout.joints.early'), say(guide.early_entry_depth_m, 'depth', units.value)],
          [t('layout.joints.aspect'), t('layout.joints.aspectMost', { most: ASPECT_MOST })],
          [t('layout.joints.between'), job.bays.length > 1 ? formatLength(between_m, units.value) : null],
        ]}
      />
      {flagged.map((panel) => (
        <Notice key={panel.bay} tone="warn" title={t('layout.joints.flagged', { bay: panel.bay })}>
          {panel.flags.map((flag) => (
            <p key={flag}>{t(`layout.joints.flag.${flag}`, { long: formatLength(panel.long_m, units.value), short: formatLength(panel.short_m, units.value), aspect: panel.aspect.toFixed(1) })}</p>
          ))}
        </Notice>
      ))}
      <p class="soft">{t('layout.joints.source')}</p>
    </section>
  )
}
