// All that the page and the engine's worker say to each other.
import type { JobState } from '../shared/fold';

/** Where the worker finds what it runs: folder of the Python runtime, archive of our own files, archive of time zones. */
export type EngineFiles = { readonly runtime: string; readonly code: string; readonly zones: string };

/** What the times of one job rest on. Amounts SI, times ISO 8601; what the outlook brought goes on as it came. */
export type Question = {
  readonly job: string;
  readonly company: string;
  /** By which the times are worked out: the phone's clock, put right. */
  readonly now: string;
  /** The job's log, folded. */
  readonly state: JobState;
  /** The stored weather hours as the outlook packs them. */
  readonly hours: unknown;
  /** The job's reminders as the server last told them. */
  readonly told: readonly unknown[];
  /** The times shown now, kept where a slip in the log leaves none: `timeline` without its curves, `planned`, `computed_at`. */
  readonly last: unknown;
  readonly learned: Learned;
};

/** What the company knows of the job's mix and of all mixes, as the outlook brought it; null from an older server. */
export type Learned = { readonly prior: unknown; readonly mixes: unknown } | null;

/** What came of it, in the outlook's own form. */
export type Answer = {
  readonly job: string;
  readonly computed_at: string;
  readonly weather: unknown;
  readonly problem: unknown;
  readonly planned: boolean;
  readonly assumptions: readonly string[];
  readonly assumed: readonly unknown[];
  readonly timeline: unknown;
  readonly prior?: unknown;
  readonly reminders: readonly unknown[];
  /** When to work it out again though nothing happens. */
  readonly recompute_after: string | null;
};

/** A foreman's question that records nothing: what would happen if, or when to pour. */
export type Asked = {
  readonly decide: 'what_if' | 'advice';
  readonly now: string;
  readonly state: JobState;
  readonly hours: unknown;
  readonly learned: Learned;
  /** Of a what-if. */
  readonly changes?: readonly unknown[];
};

export type ToEngine =
  /** First, once. */
  | { readonly type: 'start'; readonly files: EngineFiles }
  | { readonly type: 'work'; readonly id: number; readonly question: Question }
  | { readonly type: 'what_if' | 'advice'; readonly id: number; readonly asked: Asked };

export type FromEngine =
  | { readonly type: 'progress'; readonly step: 'runtime' | 'code' }
  | { readonly type: 'ready'; readonly ms: number }
  | { readonly type: 'outlook'; readonly id: number; readonly answer: Answer; readonly ms: number }
  /** To what_if and advice, as the server would answer. */
  | { readonly type: 'decided'; readonly id: number; readonly answer: unknown; readonly ms: number }
  /** Without an id: it can't start at all. */
  | { readonly type: 'failed'; readonly id: number | null; readonly why: string };
