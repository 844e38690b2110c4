import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { bytesHere, dropOthers, keepFiles, missingFrom, NotKept, type Fetch, type Shelf } from '../../../pwa/src/page/engine/keeping';
import type { KeptFile } from '../../../pwa/src/page/engine/files';

const origin = 'https://slab.example';
const contents = new Map([['/engine/a1/runtime.wasm', 'w'.repeat(5000)], ['/engine/a1/stdlib.zip', 's'.repeat(3000)], ['/engine/b2/worker.js', 'k'.repeat(40)]]);
const files: KeptFile[] = [...contents].map(([path, text]) => ({ path, bytes: text.length, sha256: createHash('sha256').update(text).digest('hex') }));
const all = 8040;

/** As much of a browser's cache as is used. */
class MemoryShelf {
  readonly kept = new Map<string, Response>();
  full = false;
  asShelf(): Shelf {
    return this as unknown as Shelf;
  }
  async match(path: string | Request): Promise<Response | undefined> {
    return this.kept.get(pathOf(path));
  }
  async put(path: string | Request, response: Response): Promise<void> {
    if (this.full) throw new DOMException('no room', 'QuotaExceededError');
    this.kept.set(pathOf(path), response);
  }
  async keys(): Promise<Request[]> {
    return [...this.kept.keys()].map((path) => new Request(origin + path));
  }
  async delete(path: string | Request): Promise<boolean> {
    return this.kept.delete(pathOf(path));
  }
}

const pathOf = (asked: string | Request): string => (typeof asked === 'string' ? asked : new URL(asked.url).pathname);

/** A server that can be told to answer otherwise for a path, once. */
class Files {
  readonly asked: string[] = [];
  readonly odd = new Map<string, () => Response>();
  readonly fetch: Fetch = async (path) => {
    this.asked.push(path);
    const odd = this.odd.get(path);
    this.odd.delete(path);
    return odd ? odd() : new Response(inParts(contents.get(path) ?? '', 700), { headers: { 'Content-Type': 'application/wasm', 'Content-Length': '7' } });
  };
}

function inParts(text: string, size: number): ReadableStream<Uint8Array> {
  const bytes = new TextEncoder().encode(text);
  return new ReadableStream({
    start(line) {
      for (let at = 0; at < bytes.length; at += size) line.enqueue(bytes.slice(at, at + size));
      line.close();
    },
  });
}

describe('the engine’s files', () => {
  test('come all, with the bytes told as they come', async () => {
    const shelf = new MemoryShelf();
    const told: number[] = [];
    await keepFiles(files, shelf.asShelf(), new Files().fetch, (have) => told.push(have));
    expect([...shelf.kept.keys()]).toEqual([...contents.keys()]);
    expect(told.at(0)).toBe(0);
    expect(told.at(-1)).toBe(all);
    expect(told.length).toBeGreaterThan(10);
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(await shelf.kept.get('/engine/a1/stdlib.zip')?.text()).toBe('s'.repeat(3000));
    expect(shelf.kept.get('/engine/a1/runtime.wasm')?.headers.get('Content-Type')).toBe('application/wasm');
    expect(shelf.kept.get('/engine/a1/runtime.wasm')?.headers.get('Content-Length')).toBeNull();
  });

  const lies: [string, () => Response][] = [
    ['a login page', () => new Response('<html>Log in</html>')],
    ['other bytes of the same length', () => new Response('x'.repeat(3000))],
    ['more bytes', () => new Response('s'.repeat(3001))],
    ['a cut line', () => new Response('s'.repeat(2000))],
    ['not found', () => new Response('s'.repeat(3000), { status: 404 })],
  ];
  test.each(lies)('%s is not kept, and the next try fetches only what is missing', async (_, answer) => {
    const shelf = new MemoryShelf();
    const server = new Files();
    server.odd.set('/engine/a1/stdlib.zip', answer);
    await expect(keepFiles(files, shelf.asShelf(), server.fetch, () => undefined)).rejects.toMatchObject({ name: 'NotKept', why: 'network' });
    expect([...shelf.kept.keys()]).toEqual(['/engine/a1/runtime.wasm']);
    server.asked.length = 0;
    const told: number[] = [];
    await keepFiles(files, shelf.asShelf(), server.fetch, (have) => told.push(have));
    expect(server.asked).toEqual(['/engine/a1/stdlib.zip', '/engine/b2/worker.js']);
    expect(told[0]).toBe(5000);
    expect(await missingFrom(files, shelf.asShelf())).toEqual([]);
  });

  test('a full phone is told apart from a bad line', async () => {
    const shelf = new MemoryShelf();
    shelf.full = true;
    const failure = await keepFiles(files, shelf.asShelf(), new Files().fetch, () => undefined).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(NotKept);
    expect((failure as NotKept).why).toBe('storage');
  });

  describe('a large one', () => {
    const text = 'abcdefghij'.repeat(100);
    const sha256 = (of: string): string => createHash('sha256').update(of).digest('hex');
    const pieces = [0, 1, 2].map((at) => ({ path: `/engine/a1/big.wasm.${at}.part`, text: text.slice(at * 400, at * 400 + 400) }));
    const big: KeptFile = { path: '/engine/a1/big.wasm', bytes: text.length, sha256: sha256(text), pieces: pieces.map((one) => ({ path: one.path, bytes: one.text.length, sha256: sha256(one.text) })) };
    const line = (breaksAt: number | null, asked: string[] = []): Fetch => async (path) => {
      asked.push(path);
      if (asked.length === breaksAt) throw new TypeError('no line');
      return new Response(pieces.find((one) => one.path === path)?.text ?? '', { headers: { 'Content-Security-Policy': "default-src 'none'" } });
    };

    test('goes on at the piece at which the line broke, and stands whole at the end', async () => {
      const shelf = new MemoryShelf();
      await expect(keepFiles([big], shelf.asShelf(), line(2), () => undefined)).rejects.toMatchObject({ why: 'network' });
      expect(await bytesHere([big], shelf.asShelf())).toBe(400);
      const [asked, told]: [string[], number[]] = [[], []];
      await keepFiles([big], shelf.asShelf(), line(null, asked), (have) => told.push(have));
      expect(asked).toEqual(pieces.slice(1).map(({ path }) => path));
      expect([told[0], told.at(-1)]).toEqual([400, 1_000]);
      const whole = shelf.kept.get(big.path);
      expect([...shelf.kept.keys()]).toEqual([big.path]);
      expect(await whole?.text()).toBe(text);
      expect([whole?.headers.get('Content-Type'), whole?.headers.get('Content-Security-Policy')]).toEqual(['application/wasm', "default-src 'none'"]);
    });

    test('of pieces that don’t make it is not kept, and they are fetched anew', async () => {
      const shelf = new MemoryShelf();
      const other: KeptFile = { ...big, sha256: sha256('another') };
      await expect(keepFiles([other], shelf.asShelf(), line(null), () => undefined)).rejects.toMatchObject({ why: 'network' });
      expect([...shelf.kept.keys()]).toEqual([]);
    });
  });

  test('of an earlier version go, and no others', async () => {
    const shelf = new MemoryShelf();
    await keepFiles(files, shelf.asShelf(), new Files().fetch, () => undefined);
    await shelf.put('/engine/0ld/slabtide.zip', new Response('old'));
    expect(await dropOthers(files, shelf.asShelf())).toBe(1);
    expect([...shelf.kept.keys()]).toEqual([...contents.keys()]);
  });
});
