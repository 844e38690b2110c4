import type { care as english } from '../en/care';

export const care: Record<keyof typeof english, string> = {
  'care.now': 'Se siente como {temp} ahora.',
  'care.peak': '{time}: se siente como {temp}.',
  'care.unknown': 'Sin clima para estas horas. Agua y sombra a la mano antes de empezar.',
  'care.water.near': 'Agua cerca.',
  'care.water.often': 'Un vaso de agua cada 15 a 20 min.',
  'care.rest': 'Trabaje {work} min, descanse {rest} min en la sombra.',
  'care.rest.none': 'Descanse en la sombra cuando le haga falta.',
  'care.rest.beyond': 'Fuera de la tabla de descansos: solo lo que no puede esperar, por turnos cortos, sombra entre turnos.',
  'care.level.lower': 'precaución',
  'care.level.moderate': 'moderado',
  'care.level.high': 'alto',
  'care.level.extreme': 'extremo',
  'care.level.high.do': 'Cuídense unos a otros. A los nuevos, poco a poco, en varios días.',
  'care.level.extreme.do': 'Pase lo que pueda a una hora más fresca.',
  'care.hours': 'Calor, hora por hora',
  'care.col.hour': 'Hora',
  'care.col.feels': 'Se siente',
  'care.col.work': 'Trabajo / descanso',
  'care.cell': '{work} / {rest} min',
  'care.cell.none': 'según haga falta',
  'care.cell.beyond': 'fuera de tabla',
  'care.source.moderate':
    'Se siente: índice de calor en la sombra (Servicio Meteorológico de EE. UU.); a pleno sol puede sumar hasta 8 °C (15 °F). Palabras y agua: OSHA. Trabajo y descanso: NIOSH 2017-127, trabajo moderado, con sol y humedad. Para gente sana y hecha al calor. Primero van las reglas locales.',
  'care.source.heavy':
    'Se siente: índice de calor en la sombra (Servicio Meteorológico de EE. UU.); a pleno sol puede sumar hasta 8 °C (15 °F). Palabras y agua: OSHA. Trabajo y descanso: NIOSH 2017-127, trabajo pesado, con sol y humedad. Para gente sana y hecha al calor. Primero van las reglas locales.',
};
