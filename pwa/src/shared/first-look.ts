// The first screen of the next start, whole: the app's document with the job list, the person's choices and the style
// sheet in it. It stands in a cache, so that a browser can draw it before any script has run, the worker's included.
export const LOOK_CACHE = 'slabtide-first-look';
export const LOOK_URL = '/first-look.json';
/** Each version of the app keeps its documents under this and its own mark. */
export const PAGE_CACHES = 'slabtide-page-';
/** Where the dressed document stands in such a cache, and where the one as it was built. */
export const PAGE_URL = '/';
export const PLAIN_URL = '/plain';

/** The list as marks, and what stands on the document's root: language, light, size of text, hand. */
export type Look = { readonly marks: string; readonly root: Readonly<Record<string, string>> };

/** The text of a style sheet; undefined when it can't be had, which leaves the link to it. */
type Sheet = (path: string) => Promise<string | undefined>;

const PLACE = '<div id="app">';
const ROOT = /<html[^>]*>/;
const SHEET = /[ \t]*<link rel="stylesheet"[^>]*href="([^"]+)"[^>]*>\n?/;
const AHEAD = /[ \t]*<link rel="modulepreload"[^>]*>\n?/g;
const OWN_STYLES = "style-src 'self'";

/** Puts `look` into the document of every version kept here; without one each stands as it was built. */
export async function dressAll(look: Look | null): Promise<void> {
  const names = (await caches.keys()).filter((name) => name.startsWith(PAGE_CACHES));
  await Promise.all(names.map(async (name) => dressOne(await caches.open(name), look)));
}

export async function dressOne(shelf: Cache, look: Look | null): Promise<void> {
  const plain = await shelf.match(PLAIN_URL);
  if (plain) await shelf.put(PAGE_URL, look ? await dressed(plain, look, keptSheet) : plain);
}

/** The look as it was kept last. */
export async function keptLook(): Promise<Look | null> {
  const kept = await caches.match(LOOK_URL, { cacheName: LOOK_CACHE });
  return kept ? ((await kept.json()) as Look) : null;
}

async function keptSheet(path: string): Promise<string | undefined> {
  return (await caches.match(path, { ignoreVary: true }))?.text();
}

/**
 * The document with the look in the app's place. The style sheet goes inside, allowed by its digest alone; the scripts
 * that were asked for ahead are left to the first script, which asks once this has been drawn.
 */
export async function dressed(plain: Response, look: Look, sheet: Sheet): Promise<Response> {
  const headers = new Headers(plain.headers);
  headers.delete('Content-Length');
  headers.delete('Content-Encoding'); // what a cache gives is plain already
  const page = withRoot(withLook((await plain.text()).replace(AHEAD, ''), look.marks), look.root);
  return new Response(await withSheet(page, headers, sheet), { status: plain.status, headers });
}

async function withSheet(page: string, headers: Headers, sheet: Sheet): Promise<string> {
  const [link, path] = SHEET.exec(page) ?? [];
  const policy = headers.get('Content-Security-Policy');
  const text = path === undefined ? undefined : await sheet(path);
  if (link === undefined || text === undefined || /<\/style/i.test(text)) return page;
  if (policy !== null) {
    if (!policy.includes(OWN_STYLES)) return page;
    headers.set('Content-Security-Policy', policy.replace(OWN_STYLES, `${OWN_STYLES} 'sha256-${await digest(text)}'`));
  }
  return page.replace(link, () => `    <style>${text}</style>\n`);
}

async function digest(text: string): Promise<string> {
  const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return btoa(String.fromCharCode(...bytes));
}

/** The document with the look inside the app's place; as it was when it has no such place. */
export function withLook(page: string, marks: string): string {
  const at = page.indexOf(PLACE);
  return at < 0 ? page : page.slice(0, at + PLACE.length) + marks + page.slice(at + PLACE.length);
}

function withRoot(page: string, root: Look['root']): string {
  const safe = Object.entries(root).filter(([name, value]) => /^[a-z-]+$/.test(name) && /^[\w-]+$/.test(value));
  return page.replace(ROOT, `<html${safe.map(([name, value]) => ` ${name}="${value}"`).join('')}>`);
}
