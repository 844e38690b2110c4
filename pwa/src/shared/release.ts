/** What kind of release lies on a bay: liquid dries off, powder does not. */
import type { Bay } from './model';

export type ReleaseKind = 'powder' | 'liquid';
type Laid = Pick<Bay, 'release'>;

/** As someone said it of this bay; only powder is weighed out. Null where nobody said. */
function saidOf({ release }: Laid): ReleaseKind | null {
  return release?.what ?? (release?.mass_kg == null ? null : 'powder');
}

/** The kind on a bay; where nobody said it, as on the job's other bays; null where nobody said it of any. */
export function releaseKind(bay: Laid, bays: readonly Laid[]): ReleaseKind | null {
  return saidOf(bay) ?? bays.map(saidOf).find((one) => one !== null) ?? null;
}
