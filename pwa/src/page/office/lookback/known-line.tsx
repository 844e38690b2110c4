import type { JobId } from '../../../shared/events';
import { outlook } from '../../sync/outlook';
import { t } from '../../words';
import { bookSd, paceOf, priorOf } from './known';
import { sayKnown } from './say';

type KnownProps = {
  readonly job: JobId;
  readonly mix: string;
  readonly plant: string | null | undefined;
  /** A set factor was entered for the job. */
  readonly entered?: boolean;
};

/** One line at the mix: what earlier pours told of it, and how sure that is. Nothing before the first outlook. */
export function KnownLine({ job, mix, plant, entered = false }: KnownProps) {
  const told = outlook.value;
  if (!told?.mixes || mix.trim() === '') return null;
  const own = told.jobs[job]?.prior ?? null;
  const prior = own && own.mix === mix && own.plant === (plant ?? '') ? own : priorOf(told.mixes, mix, plant);
  return (
    <p class="soft" role="status">
      {prior ? sayKnown(prior.level, paceOf(prior)) : t('lookback.known.none', { doubt: Math.round(100 * bookSd) })}
      {entered && ` ${t('lookback.known.entered')}`}
    </p>
  );
}
