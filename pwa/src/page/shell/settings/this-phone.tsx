// How safe the work is on this phone.
import { EngineLine } from '../../engine/line';
import { Button, Notice } from '../../look';
import { t } from '../../words';
import { canInstall, install, isInstalled, keeping } from '../keep';

export function ThisPhone() {
  const kept = keeping.value;
  return (
    <section class="stack">
      <h2>{t('shell.phone.title')}</h2>
      {kept === 'kept' && <p>{t('shell.phone.kept')}</p>}
      {kept === 'at risk' && <Notice tone="warn" title={t('shell.phone.atRisk')}><p>{t('shell.phone.atRiskWords')}</p></Notice>}
      <EngineLine />
      {!isInstalled() && (canInstall.value
        ? <div class="actions"><Button onPress={() => void install()}>{t('shell.phone.install')}</Button></div>
        : <p>{t('shell.phone.installHint')}</p>)}
    </section>
  );
}
