// How the engine on this phone stands, in one line, with what a person can do about it.
import { Button, Notice } from '../look';
import { t } from '../words';
import { engineState, goOn, type EngineState } from './state';
import './style.css';

const megabytes = (bytes: number): string => String(Math.round(bytes / 1_000_000));

/** On working screens: only what is not as it should be. */
export function EngineNews() {
  const { at } = engineState.value;
  return at === 'getting' || at === 'waits' || at === 'asks' || at === 'unable' ? <EngineLine /> : null;
}

/** In settings: always. */
export function EngineLine() {
  const state = engineState.value;
  if (state.at === 'unable') return <Notice tone="warn" title={t(`engine.unable.${state.why}`)}><p>{t('engine.unable.words')}</p><GoOn words="engine.again" /></Notice>;
  const { at } = state;
  return (
    <div class="engine-line">
      <p role="status">{sayState(state)}</p>
      {'all' in state && <progress max={state.all} value={state.have} aria-label={t('engine.title')} />}
      {at === 'asks' && <GoOn words="engine.get" />}
      {at === 'waits' && <GoOn words="engine.again" />}
    </div>
  );
}

function sayState(state: EngineState): string {
  if (state.at === 'unable') return t(`engine.unable.${state.why}`);
  if (!('all' in state)) return t(`engine.${state.at}`);
  return t(`engine.${state.at}`, { have: megabytes(state.have), all: megabytes(state.all) });
}

function GoOn({ words }: { readonly words: 'engine.again' | 'engine.get' }) {
  const press = goOn.value;
  return press && <div class="actions"><Button onPress={press}>{t(words)}</Button></div>;
}
