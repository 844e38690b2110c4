// @vitest-environment happy-dom
// The next start draws the job list before any script runs; it is made of nothing but the list, the moment it was true,
// and what the build made.
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { JobId } from '../../../pwa/src/shared/events';
import { dressAll, dressed, LOOK_CACHE, LOOK_URL, OF_THE_LOOK, PAGE_CACHES, PAGE_URL, PLAIN_URL, type Look } from '../../../pwa/src/shared/first-look';
import { lookOf } from '../../../pwa/src/page/shell/first-look';
import { dropOldPages, keepPage, keptPage, openWays } from '../../../pwa/src/sw/first-look';

const line = { id: 'j1' as JobId, name: 'Quarry Rise <b>front</b>', place: '$& Mill Road', phase: 'next_days', closed: false } as const;
const asOf = new Date('2026-07-14T13:05:00');
const built = `<!doctype html>
<html lang="en">
  <head>
    <script type="module" crossorigin src="/assets/index-1.js"></script>
    <link rel="stylesheet" crossorigin href="/assets/style-1.css">
    <link rel="modulepreload" crossorigin href="/assets/main-1.js">
  </head>
  <body>
    <div id="app"></div>
  </body>
</html>`;
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; base-uri 'none'";
const css = ".shell::before{content:'$& $1'}";
const plain = (): Response => new Response(built, { headers: { 'Content-Type': 'text/html', 'Content-Length': '9', 'Content-Security-Policy': policy } });
const look: Look = { marks: '<p>Lark Hill $&</p>', style: css, root: { lang: 'es', 'data-theme': 'night' } };
const sha256 = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/** Caches as the standard has them, as far as they are used here. */
class Shelf {
  readonly kept = new Map<string, Response>();
  match = (path: string): Promise<Response | undefined> => Promise.resolve(this.kept.get(path)?.clone());
  put = (path: string, answer: Response): Promise<void> => Promise.resolve(void this.kept.set(path, answer));
}
class Shelves {
  readonly all = new Map<string, Shelf>();
  open = (name: string): Promise<Shelf> => Promise.resolve(this.all.get(name) ?? (this.all.set(name, new Shelf()).get(name) as Shelf));
  keys = (): Promise<string[]> => Promise.resolve([...this.all.keys()]);
  delete = (name: string): Promise<boolean> => Promise.resolve(this.all.delete(name));
  match = async (path: string, { cacheName }: { cacheName?: string } = {}): Promise<Response | undefined> => {
    for (const [name, shelf] of this.all) if (cacheName === undefined || name === cacheName) {
      const found = await shelf.match(path);
      if (found) return found;
    }
    return undefined;
  };
}
let shelves: Shelves;
beforeEach(() => {
  shelves = new Shelves();
  vi.stubGlobal('caches', shelves);
});
afterEach(() => vi.unstubAllGlobals());
const standing = async (mark: string): Promise<string> => (await (await keptPage(mark))?.text()) ?? '';

test('the look holds each job with its way in, and nobody’s text becomes marks', () => {
  const marks = lookOf([line], asOf);
  expect(marks).toContain('href="#/job/j1/next-days"');
  expect(marks).toContain('Quarry Rise &lt;b&gt;front');
  expect(marks).toContain('data-screen-title');
});

test('the look says when it was true', () => {
  expect(lookOf([line], asOf)).toContain('The list as of Jul 14, 1:05');
});

const answered = async (built: Response, given: Look = look): Promise<{ page: string; headers: Headers }> => {
  const answer = await dressed(built, given);
  return { page: await answer.text(), headers: answer.headers };
};
const starterOf = (page: string): string => new RegExp(`<script ${OF_THE_LOOK}>(.*)</script>`).exec(page)?.[1] ?? '';

test('the look stands in the app’s place, letter by letter', async () => {
  const marks = lookOf([line], asOf);
  expect((await answered(plain(), { ...look, marks })).page).toContain(`<div id="app">${marks}</div>`);
});

test('a document without that place stays as it is', async () => {
  const other = '<body></body>';
  expect((await answered(new Response(other))).page).toBe(other);
});

test('the dressed document draws by itself: its style inside, and nothing asked for before it is drawn', async () => {
  const { page, headers } = await answered(plain());
  expect(page).toContain(`<style ${OF_THE_LOOK}>${css}</style>`);
  expect(page).toContain('<html lang="es" data-theme="night">');
  expect(page).toContain('<div id="app"><p>Lark Hill $&</p></div>');
  expect(page.replace(/<template[^]*<\/template>/, '')).not.toMatch(/\/assets\//);
  expect(headers.get('Content-Length')).toBeNull();
});

test('its style and its starter are allowed by their digests, and nothing else is', async () => {
  const { page, headers } = await answered(plain());
  expect(starterOf(page)).not.toBe('');
  expect(headers.get('Content-Security-Policy')).toBe(policy
    .replace("style-src 'self'", `style-src 'self' ${sha256(css)}`)
    .replace("script-src 'self'", `script-src 'self' ${sha256(starterOf(page))}`));
});

test('what the app needs is all put aside, and the starter brings it in after the second frame', async () => {
  const { page } = await answered(plain());
  const parsed = new DOMParser().parseFromString(page, 'text/html');
  const aside = [...(parsed.querySelector('template')?.content.children ?? [])].map((one) => one.getAttribute('src') ?? one.getAttribute('href'));
  expect(aside).toEqual(['/assets/index-1.js', '/assets/style-1.css', '/assets/main-1.js']);
  const frames: (() => void)[] = [];
  const append = vi.fn();
  const content = {};
  const run = new Function('document', 'requestAnimationFrame', 'setTimeout', starterOf(page)) as (...given: unknown[]) => void;
  run({ head: { append }, querySelector: () => ({ content }), visibilityState: 'visible' }, (then: () => void) => frames.push(then), (then: () => void) => then());
  frames.shift()?.();
  expect(append).not.toHaveBeenCalled();
  frames.shift()?.();
  expect(append).toHaveBeenCalledExactlyOnceWith(content);
});

test('a page in the background, which gets no frames, begins at once', async () => {
  const append = vi.fn();
  const run = new Function('document', 'requestAnimationFrame', starterOf((await answered(plain())).page)) as (...given: unknown[]) => void;
  run({ head: { append }, querySelector: () => ({ content: {} }), visibilityState: 'hidden' }, () => { throw new Error('waited'); });
  expect(append).toHaveBeenCalledOnce();
});

test.each([
  ['no way to widen it', "default-src 'self'", css],
  ['a style that would end its own element', policy, '</STYLE ><b>'],
])('with %s the document stays as it was built', async (_case, own, style) => {
  const { page, headers } = await answered(new Response(built, { headers: { 'Content-Security-Policy': own } }), { ...look, style });
  expect(page).toBe(built);
  expect(headers.get('Content-Security-Policy')).toBe(own);
});

test('a choice that is no plain word never reaches the document’s root', async () => {
  const { page } = await answered(plain(), { ...look, root: { lang: 'en', 'data-text': 'x" onload="y' } });
  expect(page).toContain('<html lang="en">');
});

test('a look kept before looks had a style is passed over', async () => {
  const { style: _style, ...old } = look;
  await (await shelves.open(LOOK_CACHE)).put(LOOK_URL, new Response(JSON.stringify(old)));
  await keepPage('one', plain());
  expect(await standing('one')).toBe(built);
});

test('a new version takes over the last look when it comes in, and old documents go with their version', async () => {
  await keepPage('one', plain());
  expect(await standing('one')).toBe(built);
  await (await shelves.open(LOOK_CACHE)).put(LOOK_URL, new Response(JSON.stringify(look)));
  await keepPage('two', plain());
  expect(await standing('two')).toContain('Lark Hill');
  expect(await standing('one')).toBe(built);
  await dropOldPages('two');
  expect((await shelves.keys()).filter((name) => name.startsWith(PAGE_CACHES))).toEqual([`${PAGE_CACHES}two`]);
});

test('who leaves takes the list along: every version’s document is as it was built', async () => {
  await Promise.all(['one', 'two'].map((mark) => keepPage(mark, plain())));
  await dressAll(look);
  expect(await standing('one')).toContain('Lark Hill');
  await dressAll(null);
  expect(await Promise.all(['one', 'two'].map(standing))).toEqual([built, built]);
});

test('the ways past the worker lead to this version’s own caches, and the document is there before they open', async () => {
  await keepPage('one', plain());
  const ways: { condition: { urlPattern: { pathname: string } }; source: { cacheName: string } }[] = [];
  const event = { addRoutes: (given: typeof ways) => Promise.resolve(void ways.push(...given)) };
  await openWays(event, 'one', 'precache');
  expect(ways.map(({ condition, source }) => [condition.urlPattern.pathname, source.cacheName])).toEqual([
    [PAGE_URL, `${PAGE_CACHES}one`], ['/assets/*', 'precache'], ['/engine/*', 'slabtide-engine'],
  ]);
  const shelf = await shelves.open(`${PAGE_CACHES}one`);
  expect([...shelf.kept.keys()].sort()).toEqual([PAGE_URL, PLAIN_URL]);
});

test('a browser without such ways, or one that refuses them, is served by the worker', async () => {
  const warned = vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  await expect(openWays({}, 'one', 'precache')).resolves.toBeUndefined();
  expect(warned).not.toHaveBeenCalled();
  await openWays({ addRoutes: () => Promise.reject(new TypeError('no')) }, 'one', 'precache');
  expect(warned).toHaveBeenCalledOnce();
});
