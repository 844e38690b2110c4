// Spanish puts an article before a time, and which one hangs on what the time turns out to be.

const BEFORE_DAY = /(\ba |\bde )?\blas (?=(?:(?:lun|mar|mié|jue|vie|sáb|dom)|\d{1,2} [a-z]{3,4}) \d)/g;
const BEFORE_ONE = /\blas (?=1:\d)/g;

/** "a las 1:20" is "a la 1:20"; "antes de las mar 10:41" is "antes del mar 10:41", "a las mar 10:41" is "el mar 10:41". */
export function withArticle(spanish: string): string {
  return spanish.replace(BEFORE_DAY, (_, before?: string) => (before === 'de ' ? 'del ' : 'el ')).replace(BEFORE_ONE, 'la ');
}
