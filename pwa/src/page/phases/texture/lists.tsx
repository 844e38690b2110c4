import { useState } from 'preact/hooks'
import type { Bay, JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Care, Notice } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { Checklist } from '../checklist'
import { Frame } from '../frame'
import { PinList, PinWalk } from '../pins'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { stepState } from '../steps'
import { releaseDry } from '../signal/events'
import { timeOf, whoWhen } from '../who'
import { bayPasses, isFinishPin, releaseLines, usualRelease_kg, type BayPass, type ReleaseLine } from './state'

/** Release, bay by bay: laid or not, how long ago, how much. */
export function ReleaseList({ job }: { readonly job: JobView }) {
  return (
    <Frame job={job} phase="texture" list title={t('ready.list.release')}>
      <Checklist job={job} list="release" />
      <Care what="release_dust" />
      {job.bays.length === 0 && <Notice title={t('pour.noBays')} />}
      <ul class="rows">{releaseLines(job.bays, now.value).map((line) => <ReleaseRow key={line.bay.id} job={job} line={line} />)}</ul>
      <p class="soft">{t('texture.releaseSource')} {t('texture.drySource')}</p>
    </Frame>
  )
}

function ReleaseRow({ job, line }: { readonly job: JobView; readonly line: ReleaseLine }) {
  const { bay, minutes } = line
  const [mass_kg, setMass] = useState<number | null>(bay.release?.mass_kg ?? null)
  const [least, most] = usualRelease_kg(bay.area_m2)
  const label = bay.label
  const dry = sayDry(job, bay)
  const what = bay.release?.what ?? null
  const lay = (kind: 'powder' | 'liquid'): void => void act(job.id, 'release.laid', { bay: bay.id, what: kind, mass_kg: kind === 'powder' ? mass_kg : null, product: null }, t('texture.did.release', { label }))
  return (
    <li>
      <span>
        <strong>{t('layout.bay', { label })}</strong> {[what && t(`texture.release.${what}`), minutes === null ? t('texture.notLaid') : t('texture.laidAgo', { ago: formatDuration(minutes) })].filter(Boolean).join(', ')}
        <br />
        <span class="soft">{[bay.release ? whoWhen(job, bay.release) : '', dry].filter(Boolean).join(' · ')}</span>
      </span>
      {bay.release && (
        <Button kind="quiet" label={`${t('record.takeBack')}: ${t('layout.bay', { label })}`} onPress={() => bay.release && void takeBack(job.id, bay.release.event, t('texture.did.releaseGone', { label }))}>{t('record.takeBack')}</Button>
      )}
      {!bay.release && (
        <div class="full keys">
          {(['powder', 'liquid'] as const).map((kind) => <Button key={kind} kind="main" label={`${t(`texture.lay.${kind}`)}: ${t('layout.bay', { label })}`} onPress={() => lay(kind)}>{t(`texture.lay.${kind}`)}</Button>)}
        </div>
      )}
      {what !== 'liquid' && <div class="full pair">
        <QuantityField label={t('texture.mass', { label })} quantity="mass" value={bay.release?.mass_kg ?? mass_kg} min={0} max={1000} hint={t('texture.usual', { least: say(least, 'mass', units.value), most: say(most, 'mass', units.value) })} onCommit={(kg) => {
          setMass(kg)
          if (bay.release) void act(job.id, 'release.laid', { bay: bay.id, what: bay.release.what, mass_kg: kg, product: bay.release.product }, t('texture.did.release', { label }), new Date(bay.release.at))
        }} />
      </div>}
    </li>
  )
}

/** How long liquid release lasts, by the drying of its load's surface; nothing for powder. */
function sayDry(job: JobView, bay: Bay): string {
  const curve = outlook.value?.jobs[job.id]?.timeline?.loads.find((load) => load.id === bay.load)?.curve ?? []
  const dry = releaseDry(bay, curve, job.bays)
  if (dry === null) return ''
  return dry <= now.value.getTime() ? t('texture.dry') : t('texture.dryBy', { time: timeOf(job, new Date(dry).toISOString()) })
}

/** The touch-up pass: the open pins in walking order, then bay by bay, then what is done. */
export function TouchUpList({ job }: { readonly job: JobView }) {
  const passes = bayPasses(job)
  return (
    <Frame job={job} phase="texture" list title={t('ready.list.touch_up')}>
      <PinWalk job={job} of={isFinishPin} />
      <section class="block" aria-labelledby="passes">
        <h2 id="passes">{t('pins.bays')}</h2>
        {passes.length === 0 ? <Notice title={t('texture.walkDone')} /> : <ul class="rows">{passes.map((pass) => <PassRow key={pass.bay.id} job={job} pass={pass} />)}</ul>}
      </section>
      <Checklist job={job} list="touch_up" />
      <Care what="wet_concrete" />
      <section class="block" aria-labelledby="closed-pins">
        <h2 id="closed-pins">{t('pins.closed')}</h2>
        <PinList job={job} of={(pin) => isFinishPin(pin) && !pin.open} />
      </section>
    </Frame>
  )
}

function PassRow({ job, pass }: { readonly job: JobView; readonly pass: BayPass }) {
  const { bay, open } = pass
  const state = stepState(bay, 'touch_up')
  const mark = state === 'running' ? 'end' : 'start'
  const label = t('layout.bay', { label: bay.label })
  const words = t(mark === 'end' ? 'texture.endPass' : 'texture.startPass')
  return (
    <li>
      <span>
        <strong>{label}</strong> {open > 0 ? t('pins.left', { count: open }) : t('texture.noOpenPins')}
      </span>
      {state === 'done' ? <span>{t('texture.passDoneOpen', { open })}</span> : (
        <Button kind={mark === 'end' ? 'main' : 'plain'} label={`${words}: ${label}`} onPress={() => void act(job.id, 'bay.worked', { bay: bay.id, step: 'touch_up', mark }, t(mark === 'end' ? 'pour.did.stepEnd' : 'pour.did.stepStart', { step: t('pour.step.touch_up'), label: bay.label }))}>
          {words}
        </Button>
      )}
    </li>
  )
}
