import type { JobView } from '../../../shared/job'
import { Notice } from '../../look'
import { t } from '../../words'
import type { MatchTone, MatchWord } from './match'
import { sayMatch } from './match-words'

const TONE: Readonly<Record<MatchTone, 'stop' | 'warn' | 'plain'>> = { hold: 'stop', ask: 'warn', know: 'plain' }

/** What stands out about a load, and what to do before any of it is discharged. */
export function MatchList({ words, job }: { readonly words: readonly MatchWord[]; readonly job: JobView }) {
  if (words.length === 0) return null
  return (
    <section class="stack" aria-label={t('pour.match.name')}>
      {words.map((word) => {
        const { title, todo } = sayMatch(word, job)
        return <Notice key={word.code} tone={TONE[word.tone]} title={title}><p>{todo}</p></Notice>
      })}
      {words.some(({ tone }) => tone !== 'know') && <p class="soft">{t('pour.match.first')}</p>}
    </section>
  )
}
