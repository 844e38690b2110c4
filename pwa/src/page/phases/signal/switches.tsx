import { Button } from '../../look'
import { awakeChoice, tones } from '../../shell/preferences'
import { t } from '../../words'
import { awake } from './awake'
import { canSound, tryOut } from './start'

/** Tone, buzz and the screen: on or off, tried out, and what they can't do. */
export function SignalSwitches() {
  const loud = tones.value === 'on'
  const lit = awakeChoice.value === 'on'
  return (
    <section class="block" aria-labelledby="signals">
      <h2 id="signals">{t('signal.title')}</h2>
      <div class="keys">
        <button type="button" class="look-button signal-switch" role="switch" aria-checked={loud} onClick={() => { tones.value = loud ? 'off' : 'on' }}>
          {t(loud ? 'signal.tones.on' : 'signal.tones.off')}
        </button>
        {loud && <Button onPress={() => void tryOut()}>{t('signal.try')}</Button>}
      </div>
      {loud && <p>{t('signal.when')} {t('signal.locked')}</p>}
      {loud && !canSound.value && <p class="soft">{t('signal.silent')}</p>}
      <div class="keys">
        <button type="button" class="look-button signal-switch" role="switch" aria-checked={lit} onClick={() => { awakeChoice.value = lit ? 'off' : 'on' }}>
          {t(lit ? 'signal.awake.on' : 'signal.awake.off')}
        </button>
      </div>
      {lit && <p>{t(`signal.awake.${awake.value}`)}</p>}
    </section>
  )
}
