import type { practice as english } from '../en/practice'

export const practice: Record<keyof typeof english, string> = {
  'practice.title': 'Lo nuestro y los manuales, lado a lado',
  'practice.ours': 'Lo nuestro',
  'practice.handbook': 'Manuales',
  'practice.opens': 'Empezar',
  'practice.closes': 'Terminar antes de',
  'practice.used': 'cuenta',
  'practice.others': 'Las otras cargas ({count})',
  'practice.none': 'no dice',
  'practice.cooled': 'superficie ya fría',
  'practice.goBy': 'Guíese por: {opens} a {closes}',
  'practice.why': 'Lo nuestro dice cuándo empezar. El que acabe primero de los dos es el final: la grieta no espera. Un corte corto de prueba tiene la última palabra.',
  'practice.source.conventional': 'Manuales: de 4 a 12 h después del acabado (ACI 302.1R-15), listo en 18 h con tiempo templado (CSA A23.1), antes si la superficie está 15 °F (8 °C) bajo su máximo (FHWA-RD-91-079; de memoria, sin verificar).',
  'practice.source.early': 'Manuales: de 1 a 4 h después del acabado (ACI 302.1R-15, 224.4R-13), listo en la mitad del tiempo usual (estimación), antes si la superficie está 15 °F (8 °C) bajo su máximo (FHWA-RD-91-079; de memoria, sin verificar).',
}
