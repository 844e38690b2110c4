import { useState } from 'preact/hooks'
import type { Bay, JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Button, Care, Notice } from '../../look'
import { now } from '../../shell/now'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, takeBack } from '../act'
import { Checklist } from '../checklist'
import { Frame } from '../frame'
import { JobPlan } from '../job-plan'
import { PinList, pinMarks } from '../pins'
import { say } from '../quantity'
import { QuantityField } from '../quantity-field'
import { stepState } from '../steps'
import { whoWhen } from '../who'
import { releaseLines, touchUpWalk, usualRelease_kg, type PassStop, type ReleaseLine } from './state'

/** Release, bay by bay: laid or not, how long ago, how much. */
export function ReleaseList({ job }: { readonly job: JobView }) {
  return (
    <Frame job={job} phase="texture" list title={t('ready.list.release')}>
      <Checklist job={job} list="release" />
      <Care what="release_dust" />
      {job.bays.length === 0 && <Notice title={t('pour.noBays')} />}
      <ul class="rows">{releaseLines(job.bays, now.value).map((line) => <ReleaseRow key={line.bay.id} job={job} line={line} />)}</ul>
      <p class="soft">{t('texture.releaseSource')}</p>
    </Frame>
  )
}

function ReleaseRow({ job, line }: { readonly job: JobView; readonly line: ReleaseLine }) {
  const { bay, minutes } = line
  const [mass_kg, setMass] = useState<number | null>(bay.release?.mass_kg ?? null)
  const [least, most] = usualRelease_kg(bay.area_m2)
  const label = bay.label
  const lay = (): void => void act(job.id, 'release.laid', { bay: bay.id, mass_kg, product: bay.release?.product ?? null }, t('texture.did.release', { label }))
  return (
    <li>
      <span>
        <strong>{t('layout.bay', { label })}</strong> {minutes === null ? t('texture.notLaid') : t('texture.laidAgo', { ago: formatDuration(minutes) })}
        <br />
        <span class="soft">{bay.release ? whoWhen(job, bay.release) : ''}</span>
      </span>
      {bay.release ? (
        <Button kind="quiet" label={`${t('record.takeBack')}: ${t('layout.bay', { label })}`} onPress={() => bay.release && void takeBack(job.id, bay.release.event, t('texture.did.releaseGone', { label }))}>{t('record.takeBack')}</Button>
      ) : (
        <Button kind="main" label={`${t('texture.layNow')}: ${t('layout.bay', { label })}`} onPress={lay}>{t('texture.layNow')}</Button>
      )}
      <div class="full pair">
        <QuantityField label={t('texture.mass', { label })} quantity="mass" value={bay.release?.mass_kg ?? mass_kg} min={0} max={1000} hint={t('texture.usual', { least: say(least, 'mass', units.value), most: say(most, 'mass', units.value) })} onCommit={(kg) => {
          setMass(kg)
          if (bay.release) void act(job.id, 'release.laid', { bay: bay.id, mass_kg: kg, product: bay.release.product }, t('texture.did.release', { label }), new Date(bay.release.at))
        }} />
      </div>
    </li>
  )
}

/** The touch-up walk: one bay after the other, its open pins in hand. */
export function TouchUpList({ job }: { readonly job: JobView }) {
  const stops = touchUpWalk(job)
  return (
    <Frame job={job} phase="texture" list title={t('ready.list.touch_up')}>
      <Checklist job={job} list="touch_up" />
      {stops.length === 0 ? <Notice title={t('texture.walkDone')} /> : <p class="big-figure">{t('texture.walkLeft', { stops: stops.length })}</p>}
      {stops.map((stop) => <Stop key={stop.bay?.id ?? 'none'} job={job} stop={stop} />)}
      <JobPlan job={job} marks={pinMarks(job)} dimensions={false} />
      <section class="block" aria-label={t('pour.pins')}>
        <h2>{t('pour.pins')}</h2>
        <PinList job={job} of={(pin) => pin.what !== 'debris' && !pin.open} />
      </section>
    </Frame>
  )
}

function Stop({ job, stop }: { readonly job: JobView; readonly stop: PassStop }) {
  const { bay, pins } = stop
  const title = bay ? t('layout.bay', { label: bay.label }) : t('texture.noBay')
  return (
    <section class="block" aria-label={title}>
      <div class="block-head">
        <h2>{title}</h2>
        {bay && <PassKey job={job} bay={bay} open={pins.length} />}
      </div>
      {pins.length > 0 ? <PinList job={job} of={(pin) => pins.some((one) => one.id === pin.id)} /> : <p>{t('texture.noOpenPins')}</p>}
    </section>
  )
}

function PassKey({ job, bay, open }: { readonly job: JobView; readonly bay: Bay; readonly open: number }) {
  const state = stepState(bay, 'touch_up')
  const mark = state === 'running' ? 'end' : 'start'
  if (state === 'done') return <span>{t('texture.passDoneOpen', { open })}</span>
  return (
    <Button kind="main" label={`${t(mark === 'end' ? 'texture.endPass' : 'texture.startPass')}: ${t('layout.bay', { label: bay.label })}`} onPress={() => void act(job.id, 'bay.worked', { bay: bay.id, step: 'touch_up', mark }, t(mark === 'end' ? 'pour.did.stepEnd' : 'pour.did.stepStart', { step: t('pour.step.touch_up'), label: bay.label }))}>
      {t(mark === 'end' ? 'texture.endPass' : 'texture.startPass')}
    </Button>
  )
}
