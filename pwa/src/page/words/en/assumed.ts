// What is taken for granted where nothing was entered, by its code.
export const assumed = {
  'assumed.planned_one': 'Planned: one load.',
  'assumed.planned_loads': 'Planned: {count} equal loads, {minutes} min apart.',
  'assumed.loads_to_come': 'Still to come as ordered: {count} equal {count|load|loads}, {minutes} min apart.',
  'assumed.placing_begins': 'Load {load}: placing starts {minutes} min after batching.',
  'assumed.batching_of_unticketed': 'A load without a ticket: batched {minutes} min before placing.',
  'assumed.concrete_temperature': 'Load {load}: concrete {warmer} warmer than the air at batching.',
  'assumed.concrete_temperature_any': 'Loads without a reading: concrete {warmer} warmer than the air at batching.',
  'assumed.longest_run': 'Longest run without a joint: the slab’s own {run}, until one is entered.',
  'assumed.usual_mix': 'No mix is entered: a usual {strength} mix.',
  'assumed.ticket_admixtures': 'Load {load}: the admixtures on its ticket, not the mix’s.',
  'assumed.water_past_ticket': 'Load {load}: water added past the ticket is not in its times.',
  'assumed.cover_left_out': 'Left out, its load was taken back: {cover}.',
  'assumed.cover_stays': 'Stays on until it is lifted: {cover}.',
  'assumed.cover.blanket': 'blanket',
  'assumed.cover.wet': 'wet cover',
  'assumed.cover.sheet': 'sheet',
} as const;
