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

/** "Start mats on bay B", "Texture load 2", "Saw", "Seal, coat 2". */
export function sayWork(task: Task): string {
  const params = { load: task.load ?? '', bay: task.bay ?? '', coat: task.coat ?? 1 };
  if (task.work === 'edge') return t(task.bay ? 'now.what.edge.bay' : 'now.what.edge', params);
  if (task.work === 'texture') {
    const word = task.started ? 'texture_on' : task.startBy ? 'start' : 'texture';
    return t(task.bay ? `now.what.${word}.bay` : `now.what.${word}`, params);
  }
  if (task.work === 'saw') return t(task.started ? 'now.what.saw_on' : 'now.what.saw');
  return t(`now.what.${task.work}`, params);
}

/** The first line: "Saw by 9:40 pm." "35 min left." Or why to wait: "Load 2: too soft to edge." "Ready about 10:15 am." */
export function sayLead(task: Task, now: Date): Lead {
  const at = (moment: Date | string) => sayMoment(new Date(moment), now, zoneOfTask(task));
  if (task.state === 'too_soft') {
    const left = formatDuration(minutesToOpen(now, task.window));
    return { head: sayWait(task), tail: t('now.ready_about', { time: at(task.window.opens.likely), left }) };
  }
  if (task.state === 'past') return sayPast(task, at(task.window.closes?.likely ?? now));
  if (task.startBy && task.window.closes) return sayStart(task, task.startBy, now);
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

/** "Start mats on bay B by 8:40 am." "12 min left.": so late that the crew is still done before it closes. */
function sayStart(task: Task, startBy: Date, now: Date): Lead {
  const what = sayWork(task);
  const minutes = Math.floor((startBy.getTime() - now.getTime()) / 60_000);
  const at = (moment: Date | string) => sayMoment(new Date(moment), now, zoneOfTask(task));
  if (minutes >= 0)
    return { head: t('now.by', { what, time: at(startBy) }), tail: t('now.left', { left: sayLeft(minutes) }) };
  const end = timeLeft(now, task.window);
  const params = { time: at(end?.by ?? now), left: sayLeft(end?.minutes ?? 0) };
  return {
    head: t('now.at_once', { what }),
    tail: t(end?.kind === 'safe' ? 'now.closes_from' : 'now.left_even', params),
  };
}

function sayWait(task: Task): string {
  const params = { load: task.load ?? '', bay: task.bay ?? '', coat: task.coat ?? 1 };
  if (task.bay && (task.work === 'edge' || task.work === 'texture')) return t(`now.wait.${task.work}.bay`, params);
  return t(`now.wait.${task.work}`, params);
}

function sayPast(task: Task, time: string): Lead {
  const params = { load: task.load ?? '', bay: task.bay ?? '', coat: task.coat ?? 1, time };
  const hand = task.work === 'edge' || task.work === 'texture';
  const after = hand ? 'hand' : task.work === 'saw' ? 'saw' : 'day';
  const tail = t(`now.past_do.${after}`, params);
  if (task.bay && (task.work === 'edge' || task.work === 'texture'))
    return { head: t(`now.past.${task.work}.bay`, params), tail };
  return { head: t(`now.past.${task.work}`, params), tail };
}

/** How old what is on the screen is: "just now", "12 min ago". */
export function sayAge(computedAt: string, now: Date): string {
  const minutes = Math.floor((now.getTime() - Date.parse(computedAt)) / 60_000);
  return minutes < 1 ? t('now.just_now') : t('now.ago', { age: formatDuration(minutes) });
}
