import { useRef } from 'preact/hooks'
import type { JobView } from '../../../shared/job'
import { units } from '../../shell/preferences'
import { t } from '../../words'
import { say, shownAs } from '../quantity'
import type { MatchCode, MatchWord } from './match'
import { sayMatch } from './match-words'
import { BOUNCE_MS } from '../bounce'
import { NumberPad } from './number-pad'
import { offersFor, type Offer, type Offered } from './offers'
import { FIELD_WORD, fingers } from './ticket-fields'
import { PAD_FIELDS, PAD_QUANTITY, type PadField, type Ticket } from './use-ticket'

interface PadStripProps {
  readonly job: JobView
  readonly ticket: Ticket
  readonly words: readonly MatchWord[]
  readonly editing?: string
  readonly onNext: (field: PadField) => void
}

/** At the thumb: the field in hand, its quick values, what stands out about it, and the keys. */
export function PadStrip({ job, ticket, words, editing, onNext }: PadStripProps) {
  const { active } = ticket
  const moved_ms = useRef(-Infinity)
  if (!active) return null
  const label = t(`pour.ticket.${FIELD_WORD[active]}`)
  const whole = active === 'number' || active === 'batched_at'
  const said = words.find((word) => fieldOf(word.code) === active)
  const offers = whole ? [] : offersFor(active, ticket.value, job, editing)
  const last = PAD_FIELDS[PAD_FIELDS.length - 1] === active
  // A value taken leads on to the next field, whose values come up in the same place: a glove's second touch is not for them.
  const take = (value: number): void => {
    if (performance.now() - moved_ms.current < BOUNCE_MS) return
    moved_ms.current = performance.now()
    ticket.offer(active, value)
    onNext(active)
  }
  return (
    <NumberPad label={label} point={whole ? null : '.'} onKey={ticket.press} onNext={() => onNext(active)} next={t(last ? 'pour.pad.done' : 'pour.pad.next')} bare={!fingers()}>
      <div class="pad-head">
        <span class="pad-field">{label}</span>
        {fingers() && <output class="pad-text time">{ticket.textOf(active) || '–'}{unitOf(active)}</output>}
      </div>
      {said && <p class={said.tone === 'hold' ? 'refusal' : 'remark'} role="status">{sayMatch(said, job).title}</p>}
      {offers.length > 0 && (
        <div class="pad-offers">
          {offers.map((offer) => <button key={offer.value} type="button" class="look-button" onClick={() => take(offer.value)}>{offerWords(offer, active as Offered)}</button>)}
        </div>
      )}
    </NumberPad>
  )
}

function unitOf(field: PadField): string {
  const quantity = PAD_QUANTITY[field]
  return quantity ? ` ${shownAs(quantity, units.value).unit}` : ''
}

function offerWords({ from, load, value }: Offer, field: Offered): string {
  if (from === 'none') return t('pour.ticket.none')
  const quantity = PAD_QUANTITY[field]
  const amount = quantity ? say(value, quantity, units.value) : t('pour.ticket.bagsOf', { bags: value })
  return from === 'ordered' ? t('pour.ticket.asOrdered', { value: amount }) : t('pour.ticket.asLast', { number: load ?? '', value: amount })
}

/** The field a word speaks of. */
function fieldOf(code: MatchCode): PadField {
  if (code.startsWith('slump')) return 'slump_mm'
  if (code.startsWith('drum')) return 'batched_at'
  if (code === 'water_past') return 'water_allowed_l'
  if (code.startsWith('water')) return 'water_added_l'
  return code.startsWith('colour') ? 'colour_bags' : 'concrete_temp_c'
}
