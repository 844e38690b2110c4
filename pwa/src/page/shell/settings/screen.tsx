// What a person can set on this phone.
import { Choice, Screen } from '../../look';
import { SignalSwitches } from '../../phases/signal';
import { me } from '../../sync/state';
import { language, t } from '../../words';
import { KeptCopies } from '../kept-copies';
import { hand, light, textSize, units } from '../preferences';
import { BringIn } from './bring-in';
import { MyCalendar } from './calendar';
import { CrewPhones } from './crew-phones';
import { Forecasts } from './forecasts';
import { Leaving } from './leaving';
import { Notifications } from './notifications';
import { ThisPhone } from './this-phone';

export function SettingsScreen() {
  const role = me.value?.role;
  return (
    <Screen title={t('shell.settings.title')}>
      <WhoIAm />
      <section class="stack" aria-label={t('shell.settings.look')}>
        <Choice label={t('shell.settings.language')} value={language.value} options={[{ value: 'en', label: 'English' }, { value: 'es', label: 'Español' }]} onPick={(picked) => { language.value = picked; }} />
        <Choice label={t('shell.settings.units')} value={units.value} options={[{ value: 'us', label: t('shell.settings.us') }, { value: 'metric', label: t('shell.settings.metric') }]} onPick={(picked) => { units.value = picked; }} />
        <Choice label={t('shell.settings.text')} value={textSize.value} options={[{ value: 'normal', label: t('shell.settings.normal') }, { value: 'large', label: t('shell.settings.large') }, { value: 'huge', label: t('shell.settings.huge') }]} onPick={(picked) => { textSize.value = picked; }} />
        <Choice label={t('shell.settings.hand')} value={hand.value} options={[{ value: 'right', label: t('shell.settings.right') }, { value: 'left', label: t('shell.settings.left') }]} onPick={(picked) => { hand.value = picked; }} />
        <Choice label={t('shell.settings.light')} value={light.value} options={[{ value: 'auto', label: t('shell.settings.auto') }, { value: 'sun', label: t('shell.settings.sun') }, { value: 'night', label: t('shell.settings.night') }]} onPick={(picked) => { light.value = picked; }} />
      </section>
      {role !== 'office' && <SignalSwitches />}
      <Notifications />
      <MyCalendar />
      {role === 'foreman' || role === 'office' ? <><CrewPhones /><Forecasts /><BringIn /></> : null}
      <ThisPhone />
      <KeptCopies />
      <Leaving />
    </Screen>
  );
}

function WhoIAm() {
  const mine = me.value;
  if (!mine) return null;
  return (
    <dl class="facts">
      <dt>{t('shell.settings.name')}</dt>
      <dd>{mine.name}</dd>
      <dt>{t('shell.settings.role')}</dt>
      <dd>{t(`shell.role.${mine.role}`)}</dd>
      <dt>{t('shell.settings.company')}</dt>
      <dd>{mine.company.name}</dd>
    </dl>
  );
}
