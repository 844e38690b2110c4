// The job list as plain marks, kept by the page and put into its own document by the service worker: something to
// read and touch is drawn before any script has run.
export const LOOK_CACHE = 'slabtide-first-look';
export const LOOK_URL = '/first-look';
const PLACE = '<div id="app">';

/** The document with the look inside the app's place; as it was when it has no such place. */
export function withLook(page: string, look: string): string {
  const at = page.indexOf(PLACE);
  return at < 0 ? page : page.slice(0, at + PLACE.length) + look + page.slice(at + PLACE.length);
}
