import type { JobId } from '../../shared/events';
import { Screen } from '../look';

/** One job as the office sees it. */
export function OfficeJobScreen({ job }: { job: JobId }) {
  return <Screen title={job}>{null}</Screen>;
}
