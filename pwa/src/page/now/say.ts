import { formatDuration } from '../../shared/units';
import { sayMoment } from '../look/tide/moment';
import { sayLeft } from '../look/tide/say';
import { minutesToOpen, timeLeft } from '../look/tide/window';
import { t } from '../words';
import type { Task } from './tasks';

/** What to do, in one line with its time, and what goes with it. */
export interface Lead {
  head: string;
  tail: string;
}

export const zoneOfTask = (task: Task): string => task.job.opened?.time_zone ?? 'UTC';

/** "Texture load 2", "Saw", "Seal, coat 2". */
export function sayWork(task: Task): string {
  if (task.work === 'edge') return t('now.what.edge', { load: task.load ?? '' });
  if (task.work === 'texture') {
    return t(task.started ? 'now.what.texture_on' : 'now.what.texture', { load: task.load ?? '' });
  }
  if (task.work === 'saw') return t(task.started ? 'now.what.saw_on' : 'now.what.saw');
  return t(`now.what.${task.work}`, { coat: task.coat ?? 1 });
}

/** The first line: "Saw by 9:40 pm." "35 min left." Or why to wait: "Load 2: too soft to edge." "Ready about 10:15 am." */
export function sayLead(task: Task, now: Date): Lead {
  const at = (moment: Date | string) => sayMoment(new Date(moment), now, zoneOfTask(task));
  if (task.state === 'too_soft') {
    const left = formatDuration(minutesToOpen(now, task.window));
    return { head: sayWait(task), tail: t('now.ready_about', { time: at(task.window.opens.likely), left }) };
  }
  if (task.state === 'past') return sayPast(task, at(task.window.closes?.likely ?? now));
  const what = sayWork(task);
  const end = timeLeft(now, task.window);
  if (!end)
    return {
      head: t('now.any_time', { what }),
      tail: t('now.since', { time: at(task.window.opens.likely) }),
    };
  const left = sayLeft(end.minutes);
  if (end.kind === 'safe')
    return { head: t('now.by', { what, time: at(end.by) }), tail: t('now.left', { left }) };
  return { head: t('now.at_once', { what }), tail: t('now.left_even', { time: at(end.by), left }) };
}

function sayWait(task: Task): string {
  return t(`now.wait.${task.work}`, { load: task.load ?? '', coat: task.coat ?? 1 });
}

function sayPast(task: Task, time: string): Lead {
  const params = { load: task.load ?? '', coat: task.coat ?? 1, time };
  const hand = task.work === 'edge' || task.work === 'texture';
  const after = hand ? 'hand' : task.work === 'saw' ? 'saw' : 'day';
  return { head: t(`now.past.${task.work}`, params), tail: t(`now.past_do.${after}`, params) };
}

/** How old what is on the screen is: "just now", "12 min ago". */
export function sayAge(computedAt: string, now: Date): string {
  const minutes = Math.floor((now.getTime() - Date.parse(computedAt)) / 60_000);
  return minutes < 1 ? t('now.just_now') : t('now.ago', { age: formatDuration(minutes) });
}
