interface ImportMeta {
  readonly env: { readonly PROD: boolean };
}
