import type { StateWord } from './window';

/** The fills of the strip: dots = too soft, thin hatch = maybe open, thick hatch = likely open, solid = open, bars = past. Each pattern has its own id per drawing. */
export function TidePatterns({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`${id}-soft`} width="8" height="8" patternUnits="userSpaceOnUse">
        <circle cx="2" cy="2" r="1.1" class="tide-dot" />
        <circle cx="6" cy="6" r="1.1" class="tide-dot" />
      </pattern>
      <Hatch id={`${id}-maybe`} step={8} line={2} />
      <Hatch id={`${id}-likely`} step={8} line={5.4} />
      <pattern id={`${id}-past`} width="6" height="6" patternUnits="userSpaceOnUse">
        <rect width="6" height="6" class="tide-paper" />
        <rect width="6" height="1.6" class="tide-dot" />
      </pattern>
    </defs>
  );
}

function Hatch({ id, step, line }: { id: string; step: number; line: number }) {
  return (
    <pattern id={id} width={step} height={step} patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <rect width={step} height={step} class="tide-paper" />
      <rect width={line} height={step} class="tide-fill" />
    </pattern>
  );
}

/** A state's own small mark: an empty form, a full one, one running out, one struck through. */
export function StateMark({ state }: { state: StateWord }) {
  return (
    <svg class="tide-mark" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      <rect x="2" y="4" width="20" height="16" class="tide-mark-form" />
      {state === 'too_soft' && <path d="M5 17h14" class="tide-mark-line" />}
      {state === 'ready' && <rect x="5" y="7" width="14" height="10" class="tide-fill" />}
      {state === 'closing' && <path d="M5 17V7h4v10zM11 17l6-10M15 17l4-6.5" class="tide-mark-run" />}
      {state === 'past' && <path d="M5 17L19 7M5 7l14 10" class="tide-mark-line" />}
    </svg>
  );
}
