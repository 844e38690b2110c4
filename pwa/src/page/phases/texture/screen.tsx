import { useState } from 'preact/hooks'
import { ROLES } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { WorkedOut } from '../../engine/age'
import { Button, Care, Empty, LinkButton, Notice, penetrationLevel, TideStrip, type TideRow } from '../../look'
import { NextLine, TroubleNotice } from '../../now'
import { now } from '../../shell/now'
import { isFar } from '../../sync/far'
import { outlook } from '../../sync/outlook'
import { t } from '../../words'
import { ListLink } from '../checklist'
import { Lessons } from '../../decide/lesson'
import { DecideLinks } from '../../decide/links'
import { PacePanel } from '../../decide/pace-panel'
import { attempt } from '../act'
import { Frame } from '../frame'
import { HeatCare } from '../heat'
import { DropPin, usePinDraft } from '../pins'
import { BayWork } from '../pour/screen'
import { TEXTURE_STEPS } from '../steps'
import { SignalSwitches } from '../signal'
import { mayWrite, zoneOf } from '../who'
import { CheckList } from './check/list'
import { CheckSheet } from './check/sheet'
import { bayClocks } from './state'
import './style.css'

/** The race: what to do first, each bay's clock, what the surface says, and the steps. */
export function TextureScreen({ job }: { readonly job: JobView }) {
  const [checking, setChecking] = useState(false)
  const mine = outlook.value?.jobs[job.id]
  if (job.loads.length === 0) {
    return (
      <Frame job={job} phase="texture" title={t('texture.title')} next={<NextLine job={job} place="texture" />}>
        <Empty title={t('texture.noLoads')} action={<LinkButton kind="main" href={`#/job/${job.id}/pour`}>{t('texture.toPour')}</LinkButton>}>
          <p>{t('texture.noLoadsDo')}</p>
        </Empty>
        <SignalSwitches />
      </Frame>
    )
  }
  const footer = mayWrite(ROLES['check.made']) && !job.closed && <Button kind="main" wide opensSheet onPress={() => setChecking(true)}>{t('texture.check.open')}</Button>
  return (
    <Frame job={job} phase="texture" title={t('texture.title')} next={<NextLine job={job} place="texture" />} footer={footer}>
      <div class="split">
        <div class="stack">
          <Lessons job={job} timeline={mine?.timeline} now={now.value} attempt={attempt} />
          <PacePanel job={job} timeline={mine?.timeline} now={now.value} />
          <Clocks job={job} />
          <BayWork job={job} steps={TEXTURE_STEPS} title={t('texture.steps')} />
          <CheckList job={job} />
        </div>
        <div class="stack">
          <HeatCare job={job} effort="moderate" />
          <DecideLinks job={job} />
          <ul class="rows">
            <ListLink job={job} list="release" />
            <ListLink job={job} list="touch_up" />
          </ul>
          <PinPart job={job} />
          <Care what="wet_concrete" />
          <Care what="release_dust" />
          <SignalSwitches />
        </div>
      </div>
      {checking && <CheckSheet job={job} onClose={() => setChecking(false)} />}
    </Frame>
  )
}

/** Pins behind a key: the plan that starts steps is the only one in sight until a pin is asked for. */
function PinPart({ job }: { readonly job: JobView }) {
  const [open, setOpen] = useState(usePinDraft(job, 'thin_texture').touched)
  return (
    <section class="block" aria-label={t('texture.pin')}>
      <div><Button expanded={open} onPress={() => setOpen(!open)}>{t('texture.pin')}</Button></div>
      {open && <DropPin job={job} first="thin_texture" />}
    </section>
  )
}

/** The texture window of each load, from the last outlook. */
function Clocks({ job }: { readonly job: JobView }) {
  const mine = outlook.value?.jobs[job.id]
  if (!mine && isFar(outlook.value, job)) return <Notice title={t('now.not_here')}><p>{t('now.not_here.words')}</p></Notice>
  if (!mine?.timeline) return mine?.problem ? <TroubleNotice problem={mine.problem} /> : <Notice title={t('texture.noOutlook')}><p>{t('texture.noOutlookDo')}</p></Notice>
  const rows = tideRows(job, mine.timeline)
  const times = rows.flatMap((row) => (row.window ? [Date.parse(row.window.opens.early), Date.parse((row.window.closes ?? row.window.opens).late)] : []))
  const from = new Date(Math.min(now.value.getTime(), ...times) - 30 * 60_000)
  const to = new Date(Math.max(now.value.getTime(), ...times) + 60 * 60_000)
  return (
    <section class="block" aria-labelledby="clocks">
      <h2 id="clocks">{t('texture.clocks')}</h2>
      <TideStrip rows={rows} from={from} to={to} now={now.value} timeZone={zoneOf(job)} title={t('texture.clocks')} />
      <WorkedOut look={mine} now={now.value} />
    </section>
  )
}

function tideRows(job: JobView, timeline: NonNullable<NonNullable<typeof outlook.value>['jobs'][string]['timeline']>): TideRow[] {
  return job.loads.map((load) => {
    const found = timeline.loads.find((one) => one.id === load.id)
    const bays = bayClocks(job, timeline).filter((clock) => clock.load?.id === load.id).map((clock) => clock.bay.label)
    return {
      id: load.id,
      label: bays.length ? t('texture.loadBays', { number: load.number, bays: bays.join(', ') }) : t('layout.load', { number: load.number }),
      window: found?.windows.texture ?? null,
      curve: (found?.curve ?? []).map((point) => ({ at: point.at, level: penetrationLevel(point.penetration_mpa) })),
    }
  })
}
