import type { engine as english } from '../en/engine';

export const engine: Record<keyof typeof english, string> = {
  'engine.title': 'Horas sin señal',
  'engine.off': 'Aquí las horas vienen del servidor.',
  'engine.getting': 'Preparando las horas sin señal: {have} de {all} MB',
  'engine.waits': 'Las horas sin señal aún no están completas: {have} de {all} MB. Sigue cuando haya señal.',
  'engine.asks': 'Calcular las horas sin señal pide bajar {all} MB. Este teléfono ahorra datos, así que espera su permiso.',
  'engine.get': 'Bajarlo ahora',
  'engine.again': 'Probar otra vez',
  'engine.starting': 'Preparando las horas sin señal…',
  'engine.ready': 'Este teléfono calcula las horas por sí mismo, con o sin señal.',
  'engine.unable.wasm': 'Este navegador no puede calcular las horas por sí mismo.',
  'engine.unable.storage': 'Este teléfono no puede guardar lo que necesita para calcular las horas por sí mismo.',
  'engine.unable.start': 'El cálculo de horas en este teléfono no arrancó.',
  'engine.unable.words': 'Sin señal quedan en pantalla las últimas horas sincronizadas, con su antigüedad.',
  'engine.just_now': 'ahora mismo',
  'engine.ago': 'hace {age}',
  'engine.by_phone': 'Calculado en este teléfono, {age}.',
  'engine.by_server': 'Calculado por el servidor, {age}.',
  'engine.worked_here': 'Calculado en este teléfono, {age}. Clima: {weather}.',
};
