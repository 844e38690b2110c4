// Tests read words at once, in either language.
import { loadWords } from '../../pwa/src/page/words';

await Promise.all([loadWords('en'), loadWords('es')]);
