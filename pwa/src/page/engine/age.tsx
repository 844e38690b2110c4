// Under any times: who worked them out, and how old they are.
import { formatDuration } from '../../shared/units';
import type { JobOutlook } from '../sync/contract';
import { t } from '../words';

export function WorkedOut({ look, now }: { readonly look: JobOutlook; readonly now: Date }) {
  const minutes = Math.max(0, Math.floor((now.getTime() - Date.parse(look.computed_at)) / 60_000));
  const age = minutes < 1 ? t('engine.just_now') : t('engine.ago', { age: formatDuration(minutes) });
  return <p class="soft">{t(look.worked_here ? 'engine.by_phone' : 'engine.by_server', { age })}</p>;
}
