// The engine's files as the build listed them. None in development and in tests: the engine then stays off.
import type { EngineFiles } from '../../engine-worker/contract';

export type KeptFile = { readonly path: string; readonly bytes: number; readonly sha256: string };
export type Manifest = EngineFiles & { readonly worker: string; readonly files: readonly KeptFile[] };

export const manifest: Manifest | null = typeof __ENGINE__ === 'undefined' ? null : (__ENGINE__ as Manifest);

export const totalBytes = (files: readonly KeptFile[]): number => files.reduce((sum, { bytes }) => sum + bytes, 0);
