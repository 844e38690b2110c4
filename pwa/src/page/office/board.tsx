import { Screen } from '../look';

/** The office's home: every job, late ones first. */
export function BoardScreen() {
  return <Screen title="Slabtide">{null}</Screen>;
}
