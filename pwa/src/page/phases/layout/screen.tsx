import type { ComponentType } from 'preact'
import { ROLES, type Kind } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { formatDuration } from '../../../shared/units'
import { Empty, Notice } from '../../look'
import { KnownLine } from '../../office/lookback/known-line'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { Frame } from '../frame'
import { JobPlan } from '../job-plan'
import { useOpenPart } from '../open-part'
import { say } from '../quantity'
import { dayTimeOf, mayWrite, nameOf } from '../who'
import { BayList } from './bay-list'
import { BaysForm, UndoCut } from './bays-form'
import { CrewForm } from './crew-form'
import { Joints } from './joints'
import { JobForm } from './job-form'
import { MixForm } from './mix-form'
import { paceWords, recipeWords } from './mix-words'
import { OrderForm } from './order-form'
import { Facts, Section } from './section'
import { SlabForm } from './slab-form'
import { baysFit, dayName, loadsWithoutBay } from './state'
import { colourWord } from './take-off'
import { skyWord, WeatherForm } from './weather-form'
import './style.css'

interface PartProps {
  readonly job: JobView
  readonly open: string
  readonly onOpen: (part: string) => void
  readonly onClose: (part: string) => void
}

/** Measure, volume, loads, colour, joints, crew: all that is settled before anyone drives a stake. */
export function LayoutScreen({ job }: { readonly job: JobView }) {
  const { open, setOpen, close } = useOpenPart(`${job.id}.layout.open`)
  const part = { job, open, onOpen: setOpen, onClose: close }
  return (
    <Frame job={job} phase="layout" title={t('layout.title')}>
      <div class="split">
        <div class="stack">
          <SlabPart {...part} />
          <BaysPart {...part} />
          {job.slab && <Joints job={job} />}
        </div>
        <div class="stack">
          <MixPart {...part} />
          <OrderPart {...part} />
          <CrewPart {...part} />
          <WeatherPart {...part} />
          <JobPart {...part} />
        </div>
      </div>
    </Frame>
  )
}

/** The section's switches: which form it opens and who may. */
function opening(name: string, kind: Kind, Form: ComponentType<{ job: JobView; onDone: () => void }>, { job, open, onOpen, onClose }: PartProps) {
  return {
    open: open === name,
    onOpen: (opened: boolean) => onOpen(opened ? name : ''),
    mayEdit: mayWrite(ROLES[kind]),
    form: open === name && <Form job={job} onDone={() => onClose(name)} />,
  }
}

function SlabPart(props: PartProps) {
  const { slab } = props.job
  return (
    <Section title={t('layout.part.slab')} empty={!slab} {...opening('slab', 'slab.outlined', SlabForm, props)}>
      {slab ? (
        <>
          <JobPlan job={props.job} states={false} />
          <Facts
            rows={[
              [t('layout.slab.area'), say(slab.area_m2, 'area', units.value)],
              [t('layout.slab.thickness'), say(slab.thickness_m, 'thickness', units.value)],
              [t('layout.slab.volume'), say(slab.volume_m3, 'volume', units.value)],
              [t('layout.slab.colour'), t(`layout.colour.${colourWord(slab.solar_absorptivity)}`)],
              [t('layout.slab.ground'), say(slab.ground_temp_c, 'temp', units.value)],
              [t('layout.slab.stands'), slab.abutting.map((face) => (face.bonded ? t('layout.slab.bondedTo', { against: face.against }) : face.against)).join(', ')],
              [t('layout.slab.shade'), slab.shade ? t('layout.slab.shadeOf', { percent: Math.round(slab.shade * 100) }) : null],
            ]}
          />
        </>
      ) : (
        <Empty title={t('layout.slab.none')}>
          <p>{t(mayWrite(ROLES['slab.outlined']) ? 'layout.slab.noneDo' : 'layout.foremanDoes')}</p>
        </Empty>
      )}
    </Section>
  )
}

function BaysPart(props: PartProps) {
  const { job } = props
  if (!job.slab) return null
  const homeless = loadsWithoutBay(job)
  return (
    <Section title={t('layout.part.bays')} empty={job.bays.length === 0} {...opening('bays', 'slab.outlined', BaysForm, props)}>
      {!baysFit(job.bays, job.slab.area_m2) && <Notice tone="warn" title={t('layout.bays.misfit')}><p>{t('layout.bays.misfitDo')}</p></Notice>}
      {homeless.length > 0 && <Notice title={t('layout.bays.homeless', { count: homeless.length, loads: homeless.join(', ') })} />}
      {job.bays.length ? <BayList job={job} /> : <p>{t('layout.bays.none')}</p>}
      <UndoCut job={job} />
    </Section>
  )
}

function MixPart(props: PartProps) {
  const { mix } = props.job
  return (
    <Section title={t('layout.part.mix')} empty={!mix} {...opening('mix', 'mix.chosen', MixForm, props)}>
      {mix ? (
        <>
        <p class="mix-pace">{paceWords(mix)}</p>
        <KnownLine job={props.job.id} mix={mix.name} plant={mix.plant} entered={mix.set_factor !== null} />
        <Facts
          rows={[
            [t('layout.mix.name'), mix.name],
            [t('layout.mix.cement'), say(mix.cement_kg_m3, 'cement', units.value)],
            [t('layout.mix.water'), String(mix.w_cm)],
            [t('layout.mix.strength'), say(mix.design_strength_mpa, 'strength', units.value)],
            [t('layout.mix.aggregate'), t(`layout.aggregate.${mix.aggregate}`)],
            [t('layout.mix.inside'), recipeWords(mix)],
            [t('layout.mix.plant'), mix.plant],
            [t('layout.mix.slumpAllowance'), mix.slump_allowance_mm === null ? null : say(mix.slump_allowance_mm, 'slump', units.value)],
            [t('layout.mix.drumLimit'), mix.drum_limit_min === null ? null : formatDuration(mix.drum_limit_min)],
            [t('layout.mix.colour'), mix.colour],
            [t('layout.mix.note'), mix.note],
          ]}
        />
        </>
      ) : (
        <p>{t('layout.mix.none')}</p>
      )}
    </Section>
  )
}

function OrderPart(props: PartProps) {
  const { order } = props.job
  return (
    <Section title={t('layout.part.order')} empty={!order} {...opening('order', 'order.placed', OrderForm, props)}>
      {order ? (
        <Facts
          rows={[
            [t('layout.order.pourAt'), dayTimeOf(props.job, order.pour_at)],
            [t('layout.order.volume'), say(order.volume_m3, 'volume', units.value)],
            [t('layout.order.loads'), t('layout.order.loadsOf', { loads: order.loads, each: say(order.volume_m3 / order.loads, 'volume', units.value) })],
            [t('layout.order.slump'), order.slump_mm === null ? null : say(order.slump_mm, 'slump', units.value)],
            [t('layout.order.colour'), order.colour],
            [t('layout.order.supplier'), order.supplier],
          ]}
        />
      ) : (
        <p>{t('layout.order.none')}</p>
      )}
    </Section>
  )
}

function CrewPart(props: PartProps) {
  const { crew } = props.job
  return (
    <Section title={t('layout.part.crew')} empty={!crew} {...opening('crew', 'crew.assigned', CrewForm, props)}>
      {crew ? (
        <Facts
          rows={[
            [t('layout.crew.name'), crew.crew_name],
            [t('layout.crew.people'), String(crew.people)],
            [t('layout.crew.lead'), crew.lead ? nameOf(crew.lead) : null],
            [t('layout.crew.mats'), crew.mats === null ? null : String(crew.mats)],
            [t('layout.crew.saw'), [crew.saw_kind ? t(`layout.saw.${crew.saw_kind}`) : null, crew.saw_name].filter(Boolean).join(', ')],
            [t('layout.crew.sprayerName'), crew.sprayer_name],
          ]}
        />
      ) : (
        <p>{t('layout.crew.none')}</p>
      )}
    </Section>
  )
}

function WeatherPart(props: PartProps) {
  const days = props.job.weather_days
  return (
    <Section title={t('layout.part.weather')} empty={days.length === 0} {...opening('weather', 'weather.planned', WeatherForm, props)}>
      {days.length ? (
        <Facts
          rows={days.map((day) => [
            dayName(day.date, t('record.locale')),
            t('layout.weather.line', { low: say(day.low_c, 'temp', units.value), high: say(day.high_c, 'temp', units.value), wind: say(day.wind_kmh, 'speed', units.value), sky: t(`layout.sky.${skyWord(day.cloud)}`) }),
          ])}
        />
      ) : (
        <p>{t('layout.weather.none')}</p>
      )}
    </Section>
  )
}

function JobPart(props: PartProps) {
  const { opened } = props.job
  return (
    <Section title={t('layout.part.job')} {...opening('job', 'job.opened', JobForm, props)}>
      {opened && (
        <Facts
          rows={[
            [t('layout.job.name'), opened.name],
            [t('layout.job.place'), opened.place],
            [t('layout.job.customer'), opened.customer],
            [t('layout.job.use'), t(`layout.use.${opened.use}`)],
            [t('layout.job.zone'), opened.time_zone],
          ]}
        />
      )}
    </Section>
  )
}
