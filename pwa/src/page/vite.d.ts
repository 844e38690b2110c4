/** The files of the engine, as the build listed them; absent in development and in tests. */
declare const __ENGINE__: unknown;

interface ImportMeta {
  readonly env: { readonly PROD: boolean };
}
