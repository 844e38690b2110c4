// The first script: the job list that stands in the document is drawn before the app's own scripts take the time to run.
const begin = (): void => void import('./main');
const standing = document.getElementById('app')?.hasChildNodes() === true && document.visibilityState === 'visible';
if (standing) requestAnimationFrame(() => setTimeout(begin));
else begin();
