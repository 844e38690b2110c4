// The few words the worker may have to say by itself.
export type Language = 'en' | 'es';

export const words = {
  en: {
    title: 'Slabtide',
    unread: 'Something is due on a job. Open the app to see what.',
    acknowledge: 'Acknowledge',
    notKept: 'Not acknowledged. Open the app and try there.',
  },
  es: {
    title: 'Slabtide',
    unread: 'Hay algo pendiente en un trabajo. Abra la aplicación para verlo.',
    acknowledge: 'Enterado',
    notKept: 'No se pudo confirmar. Abra la aplicación e inténtelo ahí.',
  },
} as const;
