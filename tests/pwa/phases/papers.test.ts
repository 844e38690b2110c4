import { describe, expect, it } from 'vitest'
import { nameIn, paperPath } from '../../../pwa/src/page/phases/record/documents'
import type { JobId } from '../../../pwa/src/shared/events'

const job = '6f0c1f0e-7d0a-4a53-9a50-0d2f6a1c9b11' as JobId

describe('papers of a job', () => {
  it('asks for the reader, language and units chosen', () => {
    expect(paperPath(job, 'owner', 'es', 'metric')).toBe(`/api/jobs/${job}/record.pdf?for=owner&language=es&units=metric`)
    expect(paperPath(job, 'export', 'en', 'us')).toBe(`/api/jobs/${job}/export.json`)
  })

  it('takes the file name the server gave, and no path in it', () => {
    expect(nameIn('attachment; filename="harbor-patio-owner.pdf"', 'record.pdf')).toBe('harbor-patio-owner.pdf')
    expect(nameIn('attachment; filename="../../x"', 'record.pdf')).toBe('record.pdf')
    expect(nameIn(null, 'record.pdf')).toBe('record.pdf')
  })
})
