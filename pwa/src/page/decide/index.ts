/** Deciding: what would happen if, and when to pour. */
import type { ComponentType } from 'preact';
import type { JobView } from '../../shared/job';
import type { DecideSlug } from '../shell/route';
import { PourTimeScreen } from './pour-time';
import { WhatIfScreen } from './what-if';

export const decideScreens: Record<DecideSlug, ComponentType<{ job: JobView }>> = { 'what-if': WhatIfScreen, 'pour-time': PourTimeScreen };
