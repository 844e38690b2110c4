import type { JobView } from '../../shared/job';
import { formatTemp, formatVolume } from '../../shared/units';
import { LinkButton, sayMoment } from '../look';
import { units } from '../shell/preferences';
import { t } from '../words';
import { sayIce } from './amounts';
import { COOL_WATER_C } from './levers';
import type { OrderChange } from './order-changes';

/** What to change in the order, and whom to call: said, never done by itself. */
export function OrderPanel({ job, changes, now }: { readonly job: JobView; readonly changes: readonly OrderChange[]; readonly now: Date }) {
  if (changes.length === 0) return null;
  const plant = changes.some(({ what }) => what !== 'crew');
  return (
    <section aria-labelledby="order-changes">
      <h2 id="order-changes">{t('decide.order.title')}</h2>
      <ul class="decide-order">{changes.map((change, index) => <li key={index}>{say(change, job, now)}</li>)}</ul>
      <p>{t(plant ? 'decide.order.call' : 'decide.order.crewOnly')}</p>
      <div class="actions"><LinkButton href={`#/job/${job.id}/layout`}>{t('decide.order.toOrder')}</LinkButton></div>
    </section>
  );
}

function say(change: OrderChange, job: JobView, now: Date): string {
  const at = (iso: string): string => sayMoment(new Date(iso), now, job.opened?.time_zone ?? 'UTC');
  const volume = (volume_m3: number): string => formatVolume(volume_m3, units.value);
  switch (change.what) {
    case 'start': return t('decide.order.start', { time: at(change.time), was: at(change.was) });
    case 'volume': return t('decide.order.volume', { load: change.load, volume: volume(change.volume_m3), was: volume(change.was_m3) });
    case 'total': return t('decide.order.total', { volume: volume(change.volume_m3), was: volume(change.was_m3) });
    case 'retarder': return t('decide.order.retarder', { load: change.load, percent: Math.round(change.share * 100) });
    case 'crew': return t('decide.order.crew', { people: change.people, mats: change.mats });
    case 'water':
    case 'ice': {
      const asked = t(`decide.order.${change.what}`, { water: formatTemp(COOL_WATER_C, units.value), ice: sayIce(change.ice_kg_m3) });
      return change.temp_c === null ? asked : `${asked} ${t('decide.order.temp', { temp: formatTemp(change.temp_c, units.value) })}`;
    }
  }
}
