// The engine's files as the build listed them. None in development and in tests: the engine then stays off.
import type { EngineFiles } from '../../engine-worker/contract';

export type Piece = { readonly path: string; readonly bytes: number; readonly sha256: string };
/** `pieces`: a large file also in parts, so that a line that breaks costs one of them. */
export type KeptFile = Piece & { readonly pieces?: readonly Piece[] };
export type Manifest = EngineFiles & { readonly worker: string; readonly files: readonly KeptFile[] };

export const manifest: Manifest | null = typeof __ENGINE__ === 'undefined' ? null : (__ENGINE__ as Manifest);

export const totalBytes = (files: readonly Piece[]): number => files.reduce((sum, { bytes }) => sum + bytes, 0);
