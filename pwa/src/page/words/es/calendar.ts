import type { calendar as english } from '../en/calendar';

export const calendar: Record<keyof typeof english, string> = {
  'calendar.title': 'Mi calendario',
  'calendar.words': 'Colados y ventanas de trabajo en el calendario de su teléfono o escritorio: los de las obras en que trabaja; capataces y oficina ven todas. Capataces y cuadrilla reciben una alarma la tarde anterior y una hora antes del colado, y en los avisos que les llegan primero. Cambia cuando cambian las horas.',
  'calendar.make': 'Crear mi dirección de calendario',
  'calendar.again': 'Crear una dirección nueva',
  'calendar.again.words': 'La anterior deja de funcionar.',
  'calendar.address': 'Su dirección privada de calendario',
  'calendar.once': 'Se muestra solo ahora. Quien la tenga puede leer sus colados: no se la dé a nadie.',
  'calendar.copy': 'Copiar la dirección',
  'calendar.copied': 'Copiada',
  'calendar.how': 'Cómo agregarlo',
  'calendar.how.1': 'Copie la dirección.',
  'calendar.how.2': 'En su programa de calendario, busque “agregar calendario por dirección” (también “suscribirse”, “desde un enlace” o “desde URL”), casi siempre en ajustes o cuentas.',
  'calendar.how.3': 'Pegue la dirección y active las alarmas si el programa lo pregunta.',
  'calendar.how.4': 'Los programas de calendario buscan cambios por su cuenta, algunos pocas veces al día. Para lo de hoy, confíe en los avisos de aquí.',
  'calendar.open': 'Abrir en el calendario de este aparato',
  'calendar.end': 'Terminar mi calendario',
  'calendar.end.sure': '¿Terminar el calendario?',
  'calendar.end.words': 'La dirección deja de funcionar. Lo que su calendario guardó se va cuando vuelva a mirar.',
  'calendar.ended': 'La dirección terminó.',
  'calendar.failed': 'Esto no funcionó',
};
