import { beforeEach, expect, test } from 'vitest';
import { keepPicture } from '../../../pwa/src/page/log/photos';
import { CallFailed } from '../../../pwa/src/page/sync/call';
import { sendPhotos, type SendPhoto } from '../../../pwa/src/page/sync/photo-uploads';
import { Phone } from './phone';

const picture = (fill: number): { bytes: ArrayBuffer; mime: string } => ({ bytes: new Uint8Array(400_000).fill(fill).buffer, mime: 'image/jpeg' });
const no = (status: number): CallFailed => new CallFailed({ code: 'x', message: 'no', do: '' }, status);

let phone: Phone;
let sent: Map<string, number>;
const take: SendPhoto = async (sha256, bytes) => { sent.set(sha256, bytes.byteLength); };

beforeEach(async () => {
  phone = new Phone(() => Promise.reject(new Error('off')), () => 0);
  sent = new Map();
  for (const fill of [1, 2, 3]) await keepPicture(phone.steady, picture(fill), 'now');
});

test('each photo goes once, whole', async () => {
  expect(await sendPhotos(phone.steady, take)).toEqual({ sent: 3, left: 0 });
  expect([...sent.values()]).toEqual([400_000, 400_000, 400_000]);
  sent.clear();
  expect(await sendPhotos(phone.steady, take)).toEqual({ sent: 0, left: 0 });
  expect(sent.size).toBe(0);
});

test('without a signal all stay, and nothing more is tried', async () => {
  let tries = 0;
  const off: SendPhoto = () => {
    tries += 1;
    return Promise.reject(no(0));
  };
  expect(await sendPhotos(phone.steady, off)).toEqual({ sent: 0, left: 3 });
  expect(tries).toBe(1);
});

test('one the server refuses stays, and does not hold up the others', async () => {
  let tries = 0;
  const choosy: SendPhoto = async (...photo) => {
    tries += 1;
    if (tries === 2) throw no(415);
    await take(...photo);
  };
  expect(await sendPhotos(phone.steady, choosy)).toEqual({ sent: 2, left: 1 });
});
