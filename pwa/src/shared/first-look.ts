// The first screen of the next start, whole: the app's document with the job list, the person's choices and the style
// both need in it, and nothing that has to be fetched first. It stands in a cache, so that a browser can draw it before
// any script has run, the worker's included.
export const LOOK_CACHE = 'slabtide-first-look';
export const LOOK_URL = '/first-look.json';
/** Each version of the app keeps its documents under this and its own mark. */
export const PAGE_CACHES = 'slabtide-page-';
/** Where the dressed document stands in such a cache, and where the one as it was built. */
export const PAGE_URL = '/';
export const PLAIN_URL = '/plain';

/** The list as marks, its style, and what stands on the document's root: language, light, size of text, hand. */
export type Look = { readonly marks: string; readonly style: string; readonly root: Readonly<Record<string, string>> };

const PLACE = '<div id="app">';
const ROOT = /<html[^>]*>/;
const OWN = /[ \t]*<(?:link rel="(?:stylesheet|modulepreload)"[^>]*>|script type="module"[^>]*><\/script>)\n?/g;
const OWN_STYLES = "style-src 'self'";
const OWN_SCRIPTS = "script-src 'self'";
/** What in the dressed document is there for the first look alone: the app takes it away. */
export const OF_THE_LOOK = 'data-first-look';
/**
 * Brings in the app's own sheet and scripts once the list is on the glass. The second frame comes once the first has
 * been handed over; a page in the background gets no frames and waits for none.
 */
const STARTER = `{const begin=()=>document.head.append(document.querySelector('template[${OF_THE_LOOK}]').content);document.visibilityState==='visible'?requestAnimationFrame(()=>requestAnimationFrame(()=>setTimeout(begin))):begin()}`;

/** Puts `look` into the document of every version kept here; without one each stands as it was built. */
export async function dressAll(look: Look | null): Promise<void> {
  const names = (await caches.keys()).filter((name) => name.startsWith(PAGE_CACHES));
  await Promise.all(names.map(async (name) => dressOne(await caches.open(name), look)));
}

export async function dressOne(shelf: Cache, look: Look | null): Promise<void> {
  const plain = await shelf.match(PLAIN_URL);
  if (plain) await shelf.put(PAGE_URL, look ? await dressed(plain, look) : plain);
}

/** The look as it was kept last; null for one from before looks had a style of their own. */
export async function keptLook(): Promise<Look | null> {
  const kept = await caches.match(LOOK_URL, { cacheName: LOOK_CACHE });
  const look = kept ? ((await kept.json()) as Partial<Look>) : {};
  return look.style === undefined ? null : (look as Look);
}

/**
 * The document with the look in the app's place. Its style and its few words of script stand inside, allowed by their
 * digests alone; a document whose policy can't be widened so stays as it was built.
 */
export async function dressed(plain: Response, look: Look): Promise<Response> {
  const headers = new Headers(plain.headers);
  headers.delete('Content-Length');
  headers.delete('Content-Encoding'); // what a cache gives is plain already
  const built = await plain.text();
  const policy = await widened(headers.get('Content-Security-Policy'), look.style);
  const fits = policy !== undefined && built.includes(PLACE) && !/<\/style/i.test(look.style);
  if (fits && policy) headers.set('Content-Security-Policy', policy);
  return new Response(fits ? withLook(built, look) : built, { status: plain.status, headers });
}

/** The policy with the look's style and the starter let in; undefined where it can't be told how. */
async function widened(policy: string | null, style: string): Promise<string | null | undefined> {
  if (policy === null) return null;
  if (!policy.includes(OWN_STYLES) || !policy.includes(OWN_SCRIPTS)) return undefined;
  const allow = async (own: string, text: string): Promise<[string, string]> => [own, `${own} 'sha256-${await digest(text)}'`];
  return policy.replace(...(await allow(OWN_STYLES, style))).replace(...(await allow(OWN_SCRIPTS, STARTER)));
}

async function digest(text: string): Promise<string> {
  const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return btoa(String.fromCharCode(...bytes));
}

/** The document with the look inside the app's place, and what the app itself needs put aside until that is drawn. */
function withLook(built: string, { marks, style, root }: Look): string {
  const later = (built.match(OWN) ?? []).join('');
  const page = built.replace(OWN, '').replace('</head>', () => `  <style ${OF_THE_LOOK}>${style}</style>\n  </head>`);
  const at = page.indexOf(PLACE) + PLACE.length;
  const end = page.indexOf('</div>', at) + '</div>'.length;
  const aside = `\n    <template ${OF_THE_LOOK}>\n${later}    </template>\n    <script ${OF_THE_LOOK}>${STARTER}</script>`;
  return withRoot(page.slice(0, at) + marks + page.slice(at, end) + aside + page.slice(end), root);
}

function withRoot(page: string, root: Look['root']): string {
  const safe = Object.entries(root).filter(([name, value]) => /^[a-z-]+$/.test(name) && /^[\w-]+$/.test(value));
  return page.replace(ROOT, `<html${safe.map(([name, value]) => ` ${name}="${value}"`).join('')}>`);
}
