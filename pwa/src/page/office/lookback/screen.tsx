import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { Button, Empty, Notice, Screen } from '../../look';
import { sayError } from '../../shell/trouble';
import { callJson } from '../../sync/call';
import { t } from '../../words';
import { addressOf, ANY, MEASURES, type Asked, type LookedBack } from './contract';
import { Filters } from './filters';
import { KeptPart } from './kept-part';
import { CallbacksPart, FactorPart, PacePart, WastePart } from './other-parts';
import './style.css';

/** What was asked and answered last; kept while the app is open, so that coming back finds it as it was. */
const asked = signal<Asked>(ANY);
const seen = signal<LookedBack | null>(null);

/** What the company learned from its closed jobs, asked of the server. */
export function LookingBackScreen() {
  const [problem, setProblem] = useState<string | null>(null);
  const [tries, setTries] = useState(0);
  const address = addressOf(asked.value);
  useEffect(() => {
    let here = true;
    callJson<LookedBack>(address).then(
      (found) => {
        if (!here) return;
        seen.value = found;
        setProblem(null);
      },
      (error: unknown) => here && setProblem(sayError(error)),
    );
    return () => {
      here = false;
    };
  }, [address, tries]);
  const found = seen.value;
  return (
    <Screen title={t('lookback.title')} under={found && t('lookback.under', { jobs: found.jobs })} wide>
      {problem !== null && (
        <Notice tone="warn" title={t('lookback.offline')} announce>
          <p>{problem}</p>
          <Button onPress={() => setTries(tries + 1)}>{t('lookback.again')}</Button>
        </Notice>
      )}
      {found ? <Found found={found} /> : problem === null && <p role="status">{t('lookback.loading')}</p>}
    </Screen>
  );
}

function Found({ found }: { readonly found: LookedBack }) {
  if (found.choices.months.length === 0) {
    return <Empty title={t('lookback.empty')}><p>{t('lookback.empty.words')}</p></Empty>;
  }
  return (
    <>
      <Filters asked={asked.value} choices={found.choices} onAsk={(next) => (asked.value = next)} />
      {found.jobs === 0 ? <Empty title={t('lookback.none')}><p>{t('lookback.none.words')}</p></Empty> : <Parts found={found} />}
    </>
  );
}

function Parts({ found }: { readonly found: LookedBack }) {
  return (
    <>
      <div class="back-parts">
        {MEASURES.map((name) => <KeptPart key={name} name={name} measured={found.kept[name]} />)}
        <FactorPart mixes={found.set_factor} />
        <PacePart pace={found.pace} />
        <CallbacksPart seen={found.callbacks} />
        <WastePart waste={found.waste} />
      </div>
      <div class="actions no-print"><Button onPress={() => window.print()}>{t('lookback.print')}</Button></div>
    </>
  );
}
