// Brings the engine's files onto the phone: one after another, each checked before it counts, none fetched twice.
import { totalBytes, type KeptFile, type Piece } from './files';

export type Shelf = Pick<Cache, 'match' | 'put' | 'keys' | 'delete'>;
export type Fetch = (path: string, init: RequestInit) => Promise<Response>;

/** network: not now, perhaps later. storage: the phone has no room for it. */
export class NotKept extends Error {
  override readonly name = 'NotKept';
  constructor(readonly why: 'network' | 'storage', cause: unknown) {
    super(`the engine's files are not all on this phone: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
  }
}

/** Fetches what is missing. `onHave` is told how many bytes are here. Throws NotKept; what came stays. */
export async function keepFiles(files: readonly KeptFile[], shelf: Shelf, fetcher: Fetch, onHave: (bytes: number) => void): Promise<void> {
  let have = await bytesHere(files, shelf);
  onHave(have);
  const bringOne = async (one: Piece): Promise<void> => {
    await keepFile(one, shelf, fetcher, (part) => onHave(have + part));
    have += one.bytes;
    onHave(have);
  };
  for (const file of await missingFrom(files, shelf)) {
    if (!file.pieces) await bringOne(file);
    else {
      for (const piece of await missingFrom(file.pieces, shelf)) await bringOne(piece);
      await join(file, file.pieces, shelf);
    }
  }
}

/** How many bytes are here, those of files that are here in part included. */
export async function bytesHere(files: readonly KeptFile[], shelf: Shelf): Promise<number> {
  const missing = await missingFrom(files, shelf);
  const pieces = missing.flatMap((file) => file.pieces ?? []);
  return totalBytes(files) - totalBytes(missing) + totalBytes(pieces) - totalBytes(await missingFrom(pieces, shelf));
}

const types: Readonly<Record<string, string>> = { wasm: 'application/wasm', zip: 'application/zip', mjs: 'text/javascript' };

/** The file of its pieces, which go once it is kept. Pieces that don't make the file go too, and come anew the next time. */
async function join(file: KeptFile, pieces: readonly Piece[], shelf: Shelf): Promise<void> {
  const letGo = (): Promise<unknown> => Promise.all(pieces.map(({ path }) => shelf.delete(path, { ignoreVary: true })));
  const parts = await Promise.all(pieces.map(({ path }) => shelf.match(path, { ignoreVary: true })));
  const bytes = new Uint8Array(await new Blob(await Promise.all(parts.flatMap((part) => (part ? [part.arrayBuffer()] : [])))).arrayBuffer());
  if ((await sha256(bytes)) !== file.sha256) {
    await letGo();
    throw new NotKept('network', new Error(`${file.path}: its pieces don’t make it`));
  }
  const headers = kept(parts[0]?.headers ?? new Headers());
  headers.set('Content-Type', types[file.path.slice(file.path.lastIndexOf('.') + 1)] ?? 'application/octet-stream');
  await putIn(shelf, file.path, new Response(bytes, { headers }));
  await letGo();
}

/** The files that are not here yet. */
export async function missingFrom<One extends Piece>(files: readonly One[], shelf: Shelf): Promise<readonly One[]> {
  const found = await Promise.all(files.map(({ path }) => shelf.match(path, { ignoreVary: true })));
  return files.filter((_, index) => !found[index]);
}

/** Lets go of files of earlier versions. Only once all of this one's are here. */
export async function dropOthers(files: readonly KeptFile[], shelf: Shelf): Promise<number> {
  const wanted = new Set(files.map(({ path }) => path));
  const others = (await shelf.keys()).filter(({ url }) => !wanted.has(new URL(url).pathname));
  await Promise.all(others.map((request) => shelf.delete(request, { ignoreVary: true })));
  return others.length;
}

async function keepFile(file: Piece, shelf: Shelf, fetcher: Fetch, onPart: (bytes: number) => void): Promise<void> {
  const { bytes, headers } = await bring(file, fetcher, onPart);
  await putIn(shelf, file.path, new Response(bytes, { headers }));
}

async function putIn(shelf: Shelf, path: string, answer: Response): Promise<void> {
  try {
    await shelf.put(path, answer);
  } catch (error) {
    throw new NotKept('storage', error);
  }
}

type Brought = { readonly bytes: Uint8Array<ArrayBuffer>; readonly headers: Headers };

async function bring(file: Piece, fetcher: Fetch, onPart: (bytes: number) => void): Promise<Brought> {
  try {
    const response = await fetcher(file.path, { cache: 'no-store', credentials: 'omit', redirect: 'error' });
    if (!response.ok || !response.body) throw new Error(`${file.path}: ${response.status}`);
    const bytes = await readAll(response.body, file, onPart);
    if ((await sha256(bytes)) !== file.sha256) throw new Error(`${file.path}: not the bytes it should be`);
    return { bytes, headers: kept(response.headers) };
  } catch (error) {
    throw new NotKept('network', error);
  }
}

async function readAll(body: ReadableStream<Uint8Array>, { path, bytes: size }: Piece, onPart: (bytes: number) => void): Promise<Uint8Array<ArrayBuffer>> {
  const all = new Uint8Array(size);
  const reader = body.getReader();
  let at = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    if (at + part.value.length > size) {
      await reader.cancel();
      throw new Error(`${path}: more bytes than it should have`);
    }
    all.set(part.value, at);
    at += part.value.length;
    onPart(at);
  }
  if (at < size) throw new Error(`${path}: cut at ${at} of ${size} bytes`);
  return all;
}

async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** What a browser goes by when it runs the file; lengths and packing were the line's own affair. */
function kept(from: Headers): Headers {
  const headers = new Headers();
  for (const name of ['Content-Type', 'Content-Security-Policy', 'X-Content-Type-Options']) {
    const value = from.get(name);
    if (value !== null) headers.set(name, value);
  }
  return headers;
}
