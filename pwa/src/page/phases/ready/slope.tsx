import { NEEDS } from '../../../shared/checklists'
import type { PointId } from '../../../shared/events'
import type { JobView, Level } from '../../../shared/job'
import { formatLength } from '../../../shared/units'
import { newId } from '../../../shared/uuid'
import { Empty, Notice } from '../../look'
import { LengthField } from '../../plan/length-field'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { act, removeKept } from '../act'
import { Checklist } from '../checklist'
import { Frame } from '../frame'
import { sayShort } from '../quantity'
import { whoWhen } from '../who'
import { Measure, Points, type PointBase } from './points'
import { readSlope, type SlopeReading } from './state'

interface LevelDraft extends PointBase {
  readonly reading_m: number | null
}

/** Level shots on the forms or the base: which way water will run, and where it will stand. */
export function SlopeList({ job }: { readonly job: JobView }) {
  const reading = readSlope(job)
  const find = (id: string): Level | undefined => job.levels.find((level) => level.id === id)
  const save = ({ id, label, spot, reading_m }: LevelDraft): Promise<unknown> => {
    const point = (id ?? newId()) as PointId
    return spot && reading_m !== null ? act(job.id, 'level.shot', { point, label: label.trim(), spot, reading_m }, t('ready.did.level', { label })) : Promise.resolve(null)
  }
  return (
    <Frame job={job} phase="ready" list title={t('ready.list.slope')}>
      <Checklist job={job} list="slope" />
      {job.slab ? (
        <Measure title={t('ready.level.shots')}>
          <SlopeWords job={job} reading={reading} />
          <Points<LevelDraft>
            job={job}
            draftKey="level"
            kind="level"
            points={job.levels.map((level) => (reading?.low.some((spot) => spot.label === level.label) ? { ...level, kind: 'low' as const } : level))}
            start={(label) => ({ id: null, label, spot: null, reading_m: null })}
            edit={(id) => { const level = find(id); return level ? { id, label: level.label, spot: level.spot, reading_m: level.reading_m } : null }}
            fields={(value, put) => <LengthField label={t('ready.level.reading')} value_m={value.reading_m} min_m={-10} max_m={10} hint={t('ready.level.readingHint')} onCommit={(reading_m) => put({ reading_m })} onClear={() => put({ reading_m: null })} />}
            complete={(value) => value.reading_m !== null}
            save={save}
            row={(id) => { const level = find(id); return level && <>{formatLength(level.reading_m, units.value)} <span class="soft">{whoWhen(job, level)}</span></> }}
            remove={(id, label) => void removeKept(job.id, 'level.shot', (body) => body.point === id, t('ready.did.pointGone', { label }))}
            fall={reading?.direction_deg ?? null}
          />
        </Measure>
      ) : (
        <Empty title={t('ready.noSlab')} />
      )}
    </Frame>
  )
}

/** "Falls 1.8 % toward the lawn. Low spot at P3." and what to do. */
function SlopeWords({ job, reading }: { readonly job: JobView; readonly reading: SlopeReading | null }) {
  if (!reading) {
    return <p>{job.levels.length < NEEDS.level_shots ? t('ready.slope.more', { have: job.levels.length, need: NEEDS.level_shots }) : t('ready.slope.inLine')}</p>
  }
  return (
    <div class="stack" role="status">
      <p class="big-figure">{reading.toward === null ? t('ready.slope.flat') : t('ready.slope.falls', { percent: reading.fall_percent.toFixed(1), toward: sideWords(job, reading.toward) })}</p>
      {reading.faces.map((face) => (
        <Notice key={face.edge} tone={face.word === 'toward' || face.word === 'flat' ? 'stop' : face.word === 'slight' ? 'warn' : 'plain'} title={t(`ready.slope.face.${face.word}`, { against: face.against, percent: Math.abs(face.percent).toFixed(1) })} />
      ))}
      {reading.faces.length === 0 && reading.fall_percent < NEEDS.fall_percent && <Notice tone="stop" title={t('ready.slope.tooFlat')} />}
      {reading.low.map((spot) => <Notice key={spot.label} tone="warn" title={t('ready.slope.low', { label: spot.label, deep: sayShort(spot.below_m, units.value) })} />)}
      {reading.over_accessible && <p class="soft">{t('ready.slope.accessible')}</p>}
      <p class="soft">{t('ready.slope.source')}</p>
    </div>
  )
}

/** The side by what it stands against, or by its corners. */
function sideWords(job: JobView, edge: number): string {
  const face = job.slab?.abutting.find((one) => one.edge === edge)
  const count = job.slab?.corners.length ?? 1
  return face ? face.against : t('ready.slope.side', { from: edge + 1, to: ((edge + 1) % count) + 1 })
}
