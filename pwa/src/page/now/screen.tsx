import { Empty, Screen } from '../look';

/** The foreman's home. */
export function NowScreen() {
  return (
    <Screen title="Slabtide">
      <Empty title="Slabtide" />
    </Screen>
  );
}
