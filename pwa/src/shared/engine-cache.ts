// Where the engine's files are kept on the phone; the page fills it, the service worker answers from it.
export const ENGINE_CACHE = 'slabtide-engine';
export const ENGINE_PATH = '/engine/';
