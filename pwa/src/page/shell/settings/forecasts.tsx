// The forecast sources of the company, in the settings.
import { ForecastState } from '../../office/forecast-state';
import { t } from '../../words';

export function Forecasts() {
  return (
    <section class="stack">
      <h2>{t('bringIn.forecast')}</h2>
      <ForecastState />
    </section>
  );
}
