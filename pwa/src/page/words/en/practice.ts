export const practice = {
  'practice.title': 'Ours and the handbooks’ side by side',
  'practice.ours': 'Ours',
  'practice.handbook': 'Handbooks',
  'practice.opens': 'Start',
  'practice.closes': 'Be done by',
  'practice.used': 'counts',
  'practice.none': 'not said',
  'practice.cooled': 'surface cooled',
  'practice.goBy': 'Go by: {opens} to {closes}',
  'practice.why': 'Ours says when to start. Whichever of the two ends first is the end: cracks don’t wait. A short test cut has the last word.',
  'practice.source.conventional': 'Handbooks: 4 to 12 h after finishing (ACI 302.1R-15), done within 18 h in mild weather (CSA A23.1), sooner once the surface is 15 °F (8 °C) under its peak (FHWA-RD-91-079; from memory, not verified).',
  'practice.source.early': 'Handbooks: 1 to 4 h after finishing (ACI 302.1R-15, 224.4R-13), done in half the usual time (estimate), sooner once the surface is 15 °F (8 °C) under its peak (FHWA-RD-91-079; from memory, not verified).',
} as const
