// @vitest-environment happy-dom
// What the board asks the server for, and how the keys move over it.
import { beforeEach, describe, expect, it } from 'vitest';
import { moveByKey, toSearchByKey } from '../../../pwa/src/page/office/keys';
import { queryOf } from '../../../pwa/src/page/sync/board';

const plain = { search: '', phase: '', show: 'all', sort: 'urgent', down: false };

describe('what is asked for', () => {
  it('says nothing of what stands as it opens', () => {
    expect(queryOf(plain, 60)).toBe('limit=60');
  });

  it('carries the search as typed, the phase, the order and its turn', () => {
    const query = new URLSearchParams(queryOf({ ...plain, search: ' José & co ', phase: 'pour', sort: 'name', down: true }, 180));
    expect(Object.fromEntries(query)).toEqual({ limit: '180', search: 'José & co', phase: 'pour', sort: 'name', down: 'true' });
  });

  it('never asks for a search the server refuses as too long', () => {
    expect(new URLSearchParams(queryOf({ ...plain, search: 'a'.repeat(200) }, 60)).get('search')).toHaveLength(80);
  });
});

describe('moving over the board by keys', () => {
  beforeEach(() => {
    document.body.innerHTML = `<input id="s"><table><tbody>${['a', 'b', 'c'].map((id) => `<tr><td><a id="${id}1" href="#x">j</a><a id="${id}2" href="#y">late</a></td></tr>`).join('')}</tbody></table>`;
    document.querySelector('tbody')?.addEventListener('keydown', moveByKey);
  });
  const press = (key: string): string => {
    document.activeElement?.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
    return document.activeElement?.id ?? '';
  };

  it('goes down, up, along, to the ends, and stops at them', () => {
    document.getElementById('a1')?.focus();
    expect(['ArrowDown', 'ArrowRight', 'ArrowDown', 'ArrowDown', 'Home', 'ArrowUp', 'End'].map(press)).toEqual(['b1', 'b2', 'c1', 'c1', 'a1', 'a1', 'c1']);
  });

  it('leaves other keys, and keys held with another, alone', () => {
    document.getElementById('a1')?.focus();
    expect(press('x')).toBe('a1');
    document.activeElement?.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', altKey: true, bubbles: true }));
    expect(document.activeElement?.id).toBe('a1');
  });

  it('goes to the search on a slash, but not while someone types one', () => {
    const search = document.getElementById('s') as HTMLInputElement;
    const stop = toSearchByKey(() => search);
    document.getElementById('a1')?.focus();
    expect(press('/')).toBe('s');
    const typed = new KeyboardEvent('keydown', { key: '/', bubbles: true, cancelable: true });
    search.dispatchEvent(typed);
    expect(typed.defaultPrevented).toBe(false);
    stop();
  });
});
