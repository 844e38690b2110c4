// Generated from server/slabtide/log/checklist_items.py by `python -m slabtide.log.generate`. Do not edit.
import type { ItemTicked } from './events'

export type Per = 'job' | 'bay' | 'edge'
export type Counted = 'tick' | 'form_height' | 'form_depth' | 'form_firm' | 'joint_full_depth' | 'joint_continuous' | 'level_shots' | 'fall_away' | 'low_spots' | 'debris_pins' | 'release_laid' | 'touch_up_done' | 'finish_pins'

/** One line of a checklist: ticked by hand, or counted from what was recorded. */
export interface Item {
  readonly slug: string
  readonly per: Per
  readonly counted: Counted
}

/** Points measured on the forms, level shots, least and good fall [%], depth of a low spot [m]. */
export const NEEDS = { form_points: 4, level_shots: 4, fall_percent: 1, good_fall_percent: 2, low_spot_m: 0.006 } as const

export const CHECKLISTS: { readonly [L in ItemTicked['list']]: readonly Item[] } = {
  forms: [
    { slug: 'square', per: 'job', counted: 'tick' },
    { slug: 'stakes', per: 'job', counted: 'tick' },
    { slug: 'bracing', per: 'job', counted: 'tick' },
    { slug: 'kickers', per: 'job', counted: 'tick' },
    { slug: 'top_of_form', per: 'job', counted: 'form_height' },
    { slug: 'depth_to_base', per: 'job', counted: 'form_depth' },
    { slug: 'forms_firm', per: 'job', counted: 'form_firm' },
    { slug: 'form_oil', per: 'job', counted: 'tick' },
    { slug: 'base_compacted', per: 'job', counted: 'tick' },
    { slug: 'base_damp', per: 'job', counted: 'tick' },
    { slug: 'steel_chaired', per: 'job', counted: 'tick' },
  ],
  isolation: [
    { slug: 'full_depth', per: 'edge', counted: 'joint_full_depth' },
    { slug: 'continuous', per: 'edge', counted: 'joint_continuous' },
    { slug: 'strip_top', per: 'edge', counted: 'tick' },
    { slug: 'no_bridge', per: 'edge', counted: 'tick' },
    { slug: 'splash_masked', per: 'edge', counted: 'tick' },
  ],
  slope: [
    { slug: 'level_shots', per: 'job', counted: 'level_shots' },
    { slug: 'fall_away', per: 'edge', counted: 'fall_away' },
    { slug: 'no_low_spots', per: 'job', counted: 'low_spots' },
    { slug: 'below_sills', per: 'job', counted: 'tick' },
    { slug: 'water_way_out', per: 'job', counted: 'tick' },
  ],
  debris: [
    { slug: 'overhead', per: 'job', counted: 'tick' },
    { slug: 'walked', per: 'bay', counted: 'tick' },
    { slug: 'debris_out', per: 'job', counted: 'debris_pins' },
  ],
  release: [
    { slug: 'dust_masks', per: 'job', counted: 'tick' },
    { slug: 'drift_shielded', per: 'job', counted: 'tick' },
    { slug: 'laid', per: 'bay', counted: 'release_laid' },
    { slug: 'even_cover', per: 'bay', counted: 'tick' },
    { slug: 'edges_covered', per: 'bay', counted: 'tick' },
  ],
  touch_up: [
    { slug: 'mat_lines', per: 'bay', counted: 'tick' },
    { slug: 'edges_detailed', per: 'bay', counted: 'tick' },
    { slug: 'pass_done', per: 'bay', counted: 'touch_up_done' },
    { slug: 'pins_closed', per: 'job', counted: 'finish_pins' },
  ],
}
