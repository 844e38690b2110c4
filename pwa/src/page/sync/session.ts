// Who this phone belongs to: joining with a code, and leaving without losing unsent work.
import type { FieldDatabase } from '../../shared/store/database';
import { readMeta, writeMeta, type Session } from '../../shared/store/meta';
import { leave, takeSession } from '../../shared/store/membership';
import { book, channel, exportUnsent, type UnsentCopy } from '../log/journal';
import { forgetEmptied, noteEmptied } from '../log/emptied';
import { storage, storageTrouble } from '../log/storage';
import { language } from '../shell/preferences';
import { call, CallFailed, callJson } from './call';
import type { Me, Role } from './contract';
import { me, meSignal, syncState } from './state';

export { me };
export type { Me };

type Joined = {
  readonly token: string;
  readonly device: { readonly id: string };
  readonly person: { readonly id: string; readonly name: string };
  readonly role: Role;
  readonly company: { readonly id: string; readonly name: string };
  readonly epoch: string;
};

/** Eight letters and digits, however they were typed: `abcd-efgh`, `ABCD EFGH`; O is read as 0, I and L as 1. */
export function tidyCode(text: string): string {
  return text.toUpperCase().replace(/[^0-9A-Z]/g, '').replaceAll('O', '0').replaceAll('I', '1').replaceAll('L', '1');
}

/** Spends a code and takes the session it brings. Throws CallFailed with the server's reason. */
export async function join(code: string, personName: string): Promise<void> {
  const joined = await callJson<Joined>('/api/join', {
    method: 'POST',
    open: true,
    body: { code: tidyCode(code), person_name: personName.trim(), device_name: deviceName(), language: language.value },
  });
  const session: Session = {
    token: joined.token,
    device: joined.device.id,
    person: joined.person.id,
    name: joined.person.name,
    role: joined.role,
    company: joined.company,
  };
  await storage.run((db) => takeSession(db, session, joined.epoch, new Date().toISOString()));
  forgetEmptied();
  await readSession();
  channel.post({ type: 'session' });
}

/** Reads who this phone belongs to, and the log with it. */
export async function readSession(): Promise<Me | null> {
  const session = await storage.run((db) => readMeta(db, 'session'));
  const company = await storage.run((db) => readMeta(db, 'company'));
  if (!session && company === undefined) noteEmptied();
  await book.open();
  storage.onOpened = session ? (db) => refill(db, session) : null;
  meSignal.value = session ? withoutToken(session) : null;
  return meSignal.value;
}

/** Into a database the browser has emptied under this page: who it belongs to, and all that is not sent. */
async function refill(db: FieldDatabase, session: Session): Promise<void> {
  if (await readMeta(db, 'session')) return;
  await writeMeta(db, 'session', session);
  await writeMeta(db, 'company', session.company.id);
  await writeMeta(db, 'offsetMs', syncState.peek().clockOffsetMs);
  await book.refill(db);
  storageTrouble.value = 'emptied';
}

/** Tells the server that this phone is done; without a signal that is left to the foreman's list of devices. */
async function letServerKnow(): Promise<void> {
  const device = me.value?.device;
  if (!device) return;
  try {
    await revokeDevice(device);
  } catch (error) {
    if (!(error instanceof CallFailed)) throw error;
  }
}

/** Leaves the company. Unsent work is copied first, and the copy stays on the phone; null when there was none. */
export async function signOut(): Promise<UnsentCopy | null> {
  const copy = await exportUnsent();
  storage.onOpened = null;
  await letServerKnow();
  await storage.run(leave);
  await readSession();
  channel.post({ type: 'session' });
  return copy;
}

export type Invite = { readonly code: string; readonly link: string; readonly qr_svg: string; readonly expires_at: string; readonly role: Role };
export type DeviceEntry = {
  readonly id: string;
  readonly name: string;
  readonly person: { readonly id: string; readonly name: string; readonly role: Role };
  readonly last_heard_at: string | null;
  readonly revoked_at: string | null;
  readonly unsent: number;
  readonly oldest_unsent_at: string | null;
  /** Whether it is the device that asks. */
  readonly this: boolean;
};

export function invite(role: Role, personName: string): Promise<Invite> {
  const name = personName.trim();
  return callJson<Invite>('/api/invites', { method: 'POST', body: name === '' ? { role } : { role, person_name: name } });
}

export async function listDevices(): Promise<readonly DeviceEntry[]> {
  return (await callJson<{ devices: readonly DeviceEntry[] }>('/api/devices')).devices;
}

export async function revokeDevice(id: string): Promise<void> {
  await call(`/api/devices/${id}/revoke`, { method: 'POST', body: {} });
}

function withoutToken(session: Session): Me {
  const { device, person, name, role, company, revoked } = session;
  return { device, person, name, role, company, ...(revoked === undefined ? {} : { revoked }) };
}

function deviceName(): string {
  const agent = typeof navigator === 'undefined' ? '' : navigator.userAgent;
  const kind = ['iPhone', 'iPad', 'Android', 'Windows', 'Macintosh', 'Linux'].find((word) => agent.includes(word));
  return kind === 'Macintosh' ? 'Mac' : (kind ?? 'Phone');
}
