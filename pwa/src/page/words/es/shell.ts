import type { shell as english } from '../en/shell';

export const shell: Record<keyof typeof english, string> = {
  'shell.app': 'Slabtide',
  'shell.loading': 'Abriendo…',
  'shell.back': 'Atrás',
  'shell.close': 'Cerrar',
  'shell.cancel': 'Cancelar',
  'shell.tryAgain': 'Probar otra vez',
};
