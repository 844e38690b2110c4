export const shell = {
  'shell.app': 'Slabtide',
  'shell.loading': 'Opening…',
  'shell.back': 'Back',
  'shell.close': 'Close',
  'shell.cancel': 'Cancel',
  'shell.tryAgain': 'Try again',
} as const;
