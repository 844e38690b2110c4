import type { assumed as english } from '../en/assumed';

export const assumed: Record<keyof typeof english, string> = {
  'assumed.planned_one': 'Plan: una carga.',
  'assumed.planned_loads': 'Plan: {count} cargas iguales, una cada {minutes} min.',
  'assumed.loads_to_come': 'Faltan según el pedido: {count} {count|carga|cargas iguales}, una cada {minutes} min.',
  'assumed.placing_begins': 'Carga {load}: se empieza a vaciar {minutes} min después de mezclada.',
  'assumed.batching_of_unticketed': 'Una carga sin boleta: mezclada {minutes} min antes de vaciarse.',
  'assumed.concrete_temperature': 'Carga {load}: concreto {warmer} más caliente que el aire al mezclarse.',
  'assumed.concrete_temperature_any': 'Cargas sin lectura: concreto {warmer} más caliente que el aire al mezclarse.',
  'assumed.longest_run': 'Tramo más largo sin junta: los {run} de la losa, hasta que se anote uno.',
  'assumed.usual_mix': 'No hay mezcla anotada: una común de {strength}.',
  'assumed.ticket_admixtures': 'Carga {load}: los aditivos de su boleta, no los de la mezcla.',
  'assumed.water_past_ticket': 'Carga {load}: el agua añadida de más no entra en sus horas.',
  'assumed.cover_left_out': 'No cuenta, se deshizo su carga: {cover}.',
  'assumed.cover_stays': 'Se queda hasta que se quite: {cover}.',
  'assumed.cover.blanket': 'manta de curado',
  'assumed.cover.wet': 'cubierta húmeda',
  'assumed.cover.sheet': 'plástico',
};
