import type { signal as english } from '../en/signal';

export const signal: Record<keyof typeof english, string> = {
  'signal.opens': '{where} ya se puede texturar. Cierra como a las {time}.',
  'signal.closing': '{where} se está cerrando. Fin probable {time}.',
  'signal.dry': '{where}: el desmoldante ya debe estar seco. Tóquelo y ponga los moldes.',
  'signal.ok': 'Enterado',
  'signal.open': 'Abrir textura',
  'signal.title': 'Tono, vibración y pantalla',
  'signal.tones.on': 'Tono y vibración: sí',
  'signal.tones.off': 'Tono y vibración: no',
  'signal.try': 'Probar',
  'signal.when': 'Cuando un paño abre (dos notas que suben), cuando se está cerrando (tres rápidas), cuando el desmoldante secó (una larga y grave).',
  'signal.locked': 'Un teléfono bloqueado no puede sonar: deje la pantalla encendida. Sirve sin señal.',
  'signal.silent': 'Todavía sin sonido: toque una vez la pantalla.',
  'signal.awake.on': 'Pantalla encendida: sí',
  'signal.awake.off': 'Pantalla encendida: no',
  'signal.awake.held': 'La pantalla sigue encendida hasta texturar todos los paños, 12 h como máximo.',
  'signal.awake.idle': 'Sigue encendida desde la primera boleta hasta texturar todos los paños, 12 h como máximo.',
  'signal.awake.battery': 'Batería baja: la pantalla se puede apagar. Cárguelo o mire seguido.',
  'signal.awake.refused': 'Este teléfono deja apagar la pantalla. Alargue el tiempo de pantalla del teléfono.',
  'signal.awake.unsupported': 'Este navegador no puede dejar la pantalla encendida. Alargue el tiempo de pantalla del teléfono.',
};
