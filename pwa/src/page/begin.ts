// The first script: the job list that stands in the document is on the glass before the app's own scripts take the time to
// run. The second frame comes once the first has been handed over; a page in the background gets no frames and waits for none.
const begin = (): void => void import('./main');
const standing = document.getElementById('app')?.hasChildNodes() === true && document.visibilityState === 'visible';
if (standing) requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(begin)));
else begin();
