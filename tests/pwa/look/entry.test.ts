import { beforeEach, describe, expect, it } from 'vitest';
import { detailOf, kindWords } from '../../../pwa/src/page/office/entry';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { Event } from '../../../pwa/src/shared/event';
import { bay, job, load } from './sample';

const oak = job('Oak Lane', { loads: [load('a', 4)], bays: [bay('A', 'a'), { ...bay('b2', 'a'), label: 'By the steps' }] });
const entry = (kind: string, body: object): Event => ({ id: 'e', job: 'j', kind, body }) as unknown as Event;
const detail = (kind: string, body: object) => detailOf(entry(kind, body), oak);

beforeEach(() => {
  language.value = 'en';
});

describe('an entry in the office’s log', () => {
  it('names the bay and the step, the load by its number, the item by its words', () => {
    expect(detail('bay.worked', { bay: 'A', step: 'texture', mark: 'start' })).toBe('Bay A, Texture');
    expect(detail('load.placed', { load: 'a' })).toBe('Load 4');
    expect(detail('item.ticked', { list: 'forms', item: 'square' })).toMatch(/^Forms match the plan/);
  });

  it('says "bay" once: a label that is a name stands alone', () => {
    expect(detail('check.made', { load: 'a', bay: 'b2', kind: 'thumb' })).toBe('By the steps');
  });

  it('keeps the person’s own words', () => {
    expect(detail('note.written', { text: 'Shade moved off bay A.' })).toBe('Shade moved off bay A.');
    expect(detail('wash.done', { contained: true, note: 'vacuum' })).toBe('vacuum');
  });

  it('still shows a kind or an item that this version has no words for', () => {
    expect(kindWords('moon.seen')).toBe('moon.seen');
    expect(detail('item.ticked', { list: 'forms', item: 'brand_new' })).toBe('brand_new');
  });
});
