import type { ComponentChildren } from 'preact'
import type { JobView } from '../../shared/job'
import { Notice, Screen } from '../look'
import { ZoneNote } from '../now'
import { phaseSlugs, type PhaseSlug } from '../shell/route'
import { t } from '../words'
import { failure } from './act'
import './frame.css'

export interface FrameProps {
  readonly job: JobView
  readonly title: string
  /** The phase this screen belongs to. */
  readonly phase: PhaseSlug
  /** On a checklist: back to its phase. */
  readonly list?: boolean
  /** What to do next: the first line under the title, before everything else. */
  readonly next?: ComponentChildren
  readonly children: ComponentChildren
  readonly footer?: ComponentChildren
}

/** A phase screen: the job's name, the six phases, what could not be kept, the body. */
export function Frame({ job, title, phase, list, next, children, footer }: FrameProps) {
  return (
    <Screen title={title} under={job.name} {...(list ? { back: `#/job/${job.id}/${phase}` } : {})} {...(footer ? { footer } : {})} tight wide>
      {next}
      <ZoneNote job={job} />
      {!list && <Phases job={job} phase={phase} />}
      {failure.value && (
        <Notice tone="stop" title={t('record.notKept')} announce>
          <p>{t('record.notKeptWhy', { why: failure.value })}</p>
        </Notice>
      )}
      {job.closed && phase !== 'record' && <Notice title={t('record.isClosed')} />}
      {children}
    </Screen>
  )
}

/** The six phases of the job; the one the slab has reached is marked in words. */
function Phases({ job, phase }: { readonly job: JobView; readonly phase: PhaseSlug }) {
  return (
    <nav class="phases no-print" aria-label={t('record.phases')}>
      {phaseSlugs.map((slug) => (
        <a key={slug} class="phases-step" href={`#/job/${job.id}/${slug}`} aria-current={slug === phase ? 'page' : undefined}>
          {t(`record.phase.${slug}`)}
          {slug.replace('-', '_') === job.phase && <span class="phases-here">{t('record.here')}</span>}
        </a>
      ))}
    </nav>
  )
}
