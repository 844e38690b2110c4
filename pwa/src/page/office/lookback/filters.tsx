import { Button, Field, TextField } from '../../look';
import { t } from '../../words';
import { ANY, type Asked, type LookedBack } from './contract';
import { sayMonth } from './say';

type FiltersProps = { readonly asked: Asked; readonly choices: LookedBack['choices']; readonly onAsk: (asked: Asked) => void };

/** Which closed jobs to look back on. */
export function Filters({ asked, choices, onAsk }: FiltersProps) {
  const put = (part: Partial<Asked>): void => onAsk({ ...asked, ...part });
  const chosen = Object.values(asked).some((value) => value !== '');
  return (
    <div class="back-filters no-print" role="search">
      <Pick label={t('lookback.mix')} value={asked.mix} options={choices.mixes} onPick={(mix) => put({ mix })} />
      <Pick label={t('lookback.plant')} value={asked.plant} options={choices.plants} onPick={(plant) => put({ plant })} />
      <Pick label={t('lookback.month')} value={asked.month} options={choices.months} say={sayMonth} onPick={(month) => put({ month })} />
      <TextField label={t('lookback.from')} type="date" value={asked.from} onCommit={(from) => put({ from })} />
      <TextField label={t('lookback.to')} type="date" value={asked.to} onCommit={(to) => put({ to })} />
      {chosen && <div class="back-clear"><Button onPress={() => onAsk(ANY)}>{t('lookback.clear')}</Button></div>}
    </div>
  );
}

type PickProps = { readonly label: string; readonly value: string; readonly options: readonly string[]; readonly onPick: (value: string) => void; readonly say?: (value: string) => string };

function Pick({ label, value, options, onPick, say }: PickProps) {
  return (
    <Field label={label}>
      <select class="look-input" value={value} onChange={(event) => onPick(event.currentTarget.value)}>
        <option value="">{t('lookback.all')}</option>
        {options.map((option) => <option key={option} value={option}>{say ? say(option) : option}</option>)}
      </select>
    </Field>
  );
}
