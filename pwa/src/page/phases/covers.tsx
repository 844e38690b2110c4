import { useState } from 'preact/hooks'
import { ROLES, type CoverId, type LoadId } from '../../shared/events'
import type { Cover, CoverKind, JobView } from '../../shared/job'
import { newId } from '../../shared/uuid'
import { Button, Choice } from '../look'
import { now } from '../shell/now'
import { t } from '../words'
import { act, removeKept, takeBack } from './act'
import { AGO_MIN, COVER_KINDS, lifted, liftFault, lying, marksColour } from './cover-state'
import { mayWrite, momentOf, whoWhen } from './who'
import './covers.css'

export interface CoversProps {
  readonly job: JobView
  /** Over this load; left out, the card asks where there are several. */
  readonly load?: LoadId
}

/** What lies over the slab: laid and lifted with one touch, each to be taken back. */
export function Covers({ job, load }: CoversProps) {
  const [ago, setAgo] = useState(0)
  const [over, setOver] = useState<LoadId | ''>(load ?? '')
  const may = mayWrite(ROLES['cover.laid'])
  const at = (): Date => new Date(now.value.getTime() - ago * 60_000)
  const lay = async (cover_kind: CoverKind): Promise<void> => {
    const body = { cover: newId<CoverId>(), cover_kind, load: over || null }
    if (await act(job.id, 'cover.laid', body, t('covers.did.laid', { what: t(`covers.kind.${cover_kind}`) }), at())) setAgo(0)
  }
  const asks = load === undefined && job.loads.length > 1
  const onIt = lying(job)
  const done = lifted(job)
  return (
    <section class="block covers" aria-labelledby={`covers-${job.id}`}>
      <h2 id={`covers-${job.id}`}>{t('covers.title')}</h2>
      {onIt.length === 0 ? <p>{t('covers.none')}</p> : <ul class="rows">{onIt.map((cover) => <LyingRow key={cover.id} job={job} cover={cover} at={at} may={may} />)}</ul>}
      {may && (
        <>
          <div class="keys">
            {COVER_KINDS.map((kind) => <Button key={kind} onPress={() => void lay(kind)}>{t(`covers.lay.${kind}`)}</Button>)}
          </div>
          <details>
            <summary>{t(asks ? 'covers.moreOver' : 'covers.more')}</summary>
            <div class="stack">
              <Ago ago={ago} onAgo={setAgo} />
              {asks && <Over job={job} over={over} onOver={setOver} />}
            </div>
          </details>
          {COVER_KINDS.some((kind) => marksColour(job, kind)) && <p class="soft">{t('covers.marksColour')}</p>}
        </>
      )}
      <p class="soft">{t('covers.counted')}</p>
      {done.length > 0 && (
        <details>
          <summary>{t('covers.lifted', { count: done.length })}</summary>
          <ul class="rows">{done.map((cover) => <LiftedRow key={cover.id} job={job} cover={cover} may={may} />)}</ul>
        </details>
      )}
    </section>
  )
}

/** How long ago it was done. */
function Ago({ ago, onAgo }: { readonly ago: number; readonly onAgo: (minutes: number) => void }) {
  const options = AGO_MIN.map((minutes) => ({ value: String(minutes), label: minutes === 0 ? t('covers.now') : t('covers.ago', { minutes }) }))
  return <Choice label={t('covers.when')} value={String(ago)} options={options} onPick={(minutes) => onAgo(Number(minutes))} />
}

function Over({ job, over, onOver }: { readonly job: JobView; readonly over: LoadId | ''; readonly onOver: (load: LoadId | '') => void }) {
  const options = [{ value: '' as LoadId | '', label: t('covers.whole') }, ...job.loads.map((one) => ({ value: one.id as LoadId | '', label: t('layout.load', { number: one.number }) }))]
  return <Choice label={t('covers.over')} value={over} options={options} onPick={onOver} />
}

/** "Curing blanket, load 2". */
function coverWords(job: JobView, cover: Cover): string {
  const number = job.loads.find((one) => one.id === cover.load)?.number
  const where = cover.load === null ? t('covers.whole') : number === undefined ? t('record.goneLoad') : t('layout.load', { number })
  return t('covers.lies', { what: t(`covers.kind.${cover.kind}`), where })
}

function LyingRow({ job, cover, at, may }: { readonly job: JobView; readonly cover: Cover; readonly at: () => Date; readonly may: boolean }) {
  const [tooSoon, setTooSoon] = useState(false)
  const words = coverWords(job, cover)
  const lift = async (): Promise<void> => {
    const fault = liftFault(cover, at())
    setTooSoon(fault !== null)
    if (!fault) await act(job.id, 'cover.lifted', { cover: cover.id }, t('covers.did.lifted', { what: words }), at())
  }
  const gone = (): void => void removeKept(job.id, 'cover.laid', (body) => body.cover === cover.id, t('covers.did.gone', { what: words }))
  return (
    <li>
      <span>
        <strong>{words}</strong>
        <br />
        <span class="soft">{t('covers.since', { who: whoWhen(job, cover.laid) })}</span>
      </span>
      {may && <Button kind="main" label={`${t('covers.lift')}: ${words}`} onPress={() => void lift()}>{t('covers.lift')}</Button>}
      {tooSoon && <p class="refusal full" role="alert">{t('covers.beforeLaying', { time: momentOf(job, cover.laid.at) })}</p>}
      {may && <span class="full"><Button kind="quiet" label={`${t('record.takeBack')}: ${words}`} onPress={gone}>{t('record.takeBack')}</Button></span>}
    </li>
  )
}

function LiftedRow({ job, cover, may }: { readonly job: JobView; readonly cover: Cover; readonly may: boolean }) {
  const words = coverWords(job, cover)
  const lift = cover.lifted
  if (!lift) return null
  return (
    <li>
      <span>
        {words}
        <br />
        <span class="soft">{t('covers.fromTo', { from: momentOf(job, cover.laid.at), to: momentOf(job, lift.at) })}</span>
      </span>
      {may && <Button kind="quiet" label={`${t('covers.stillOn')}: ${words}`} onPress={() => void takeBack(job.id, lift.event, t('covers.did.stillOn', { what: words }))}>{t('covers.stillOn')}</Button>}
    </li>
  )
}
