// Generated from server/slabtide/engine/recipe.py by `python -m slabtide.log.generate`. Do not edit.

/** How many times later a mix sets: by cement, by admixture at its usual dose, by ash and slag per unit. */
export const PACE_FIGURES = {
  'cement': {
    'I/II': 1.0,
    'III': 0.7,
    'V': 1.05,
    'IL': 0.97
  },
  'admixture': {
    'A': 1.0471698113207548,
    'B': 1.4245283018867925,
    'C': 0.5754716981132075,
    'D': 1.4245283018867925,
    'E': 0.5754716981132075,
    'F': 1.0471698113207548,
    'G': 1.4245283018867925,
    'S': 1.0471698113207548
  },
  'ash': {
    'F': 0.73,
    'C': 0.47
  },
  'slag': 0.47,
  'least': 0.25,
  'most': 4.0,
  'speaks_at': 0.08
} as const
