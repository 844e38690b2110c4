// What the judge of screens runs in the page, beside axe. Evaluated there; the last line is what it leaves.
(() => {
  // Contrast is most of the work, and axe does it twice: the stricter rule leaves what is worst to the milder. Without that
  // lower bound the stricter one finds all, and the milder can rest.
  const STRICT = { contrastRatio: { normal: { minThreshold: 0 }, large: { minThreshold: 0 } } };
  const asked = { checks: { 'color-contrast-enhanced': { options: STRICT } }, resultTypes: ['violations'] };

  async function violations(within = document) {
    const rules = { 'color-contrast': { enabled: false }, 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } };
    return listed(await axe.run(within, { ...asked, rules }));
  }

  /** Contrast alone: all that another light changes. */
  async function contrast(within) {
    return listed(await axe.run(within, { ...asked, runOnly: ['color-contrast-enhanced'] }));
  }

  const listed = ({ violations: found }) => found.map(({ id, help, nodes }) => ({ id, help, where: nodes.slice(0, 3).map((node) => node.html.slice(0, 200)) }));

  const TOUCHED = 'button, a[href], input, select, textarea, summary, [role=checkbox], [tabindex="0"]';

  // A radio's target is its label. A link inside a sentence is as tall as its line, and is let off.
  function smallTargets(least, within = document) {
    const small = [];
    for (const one of within.querySelectorAll(TOUCHED)) {
      const target = (one.matches('input[type=radio], input[type=checkbox]') && one.closest('label')) || one;
      const { width, height } = target.getBoundingClientRect();
      const hidden = width === 0 || !one.checkVisibility({ visibilityProperty: true, opacityProperty: true });
      const clipped = width <= 1 && height <= 1;
      const inSentence = one.matches('p a, li a') && getComputedStyle(one).display === 'inline';
      if (hidden || clipped || inSentence || one.disabled) continue;
      if (Math.round(width) < least || Math.round(height) < least) {
        small.push(`${Math.round(width)}x${Math.round(height)} ${target.outerHTML.slice(0, 160)}`);
      }
    }
    return small;
  }

  const drawn = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const nameOf = (one) => one.getAttribute('aria-label') ?? one.textContent.trim();
  const said = ({ id, help, where }) => `${id}: ${help}: ${where.join(' ')}`;

  /** Opens all details; gives how many. */
  function unfold(within) {
    const folded = [...within.querySelectorAll('details:not([open])')];
    for (const one of folded) one.open = true;
    return folded.length;
  }

  /** Faults in the light the screen has, and of contrast in the other, each under its state's name. */
  async function judge(wrong, state, least, within) {
    const root = document.documentElement;
    const usual = root.dataset.theme;
    const other = usual === 'night' ? 'sun' : 'night';
    const small = smallTargets(least, within).map((each) => `under ${least} px: ${each}`);
    const faults = [...(await violations(within)).map(said), ...small];
    root.dataset.theme = other;
    const dim = (await contrast(within)).map(said);
    root.dataset.theme = usual;
    if (faults.length > 0) wrong[`${state}, ${usual}`] = faults;
    if (dim.length > 0) wrong[`${state}, ${other}`] = dim;
  }

  const closed = () => [...document.querySelectorAll('[aria-expanded=false], [aria-haspopup=dialog]')].filter((one) => !one.disabled && one.checkVisibility());

  /**
   * Opens all that is folded: details, parts behind a button, sheets. A part that closed another, or was closed by one, is
   * judged by itself while it is open, and so is a sheet; then the whole screen, when there is nothing more to open: where
   * nothing was folded, that is the screen as it comes.
   */
  async function eachState(least, folded) {
    const wrong = {};
    if (!folded) {
      await judge(wrong, 'as it comes', least, document);
      return [wrong, []];
    }
    const opened = [];
    const alone = [];
    let unfolded = 0;
    for (let turn = 0; turn < 90; turn += 1) {
      unfolded += unfold(document);
      await drawn();
      const before = closed().map(nameOf);
      const shut = opened.find((name) => before.includes(name) && !alone.includes(name));
      const next = closed().find((one) => (shut ? nameOf(one) === shut : !opened.includes(nameOf(one))));
      if (!next) break;
      const name = nameOf(next);
      const place = next.closest('section, li, form') ?? document.body;
      next.click();
      await drawn();
      const sheet = document.querySelector('dialog[open]');
      const closes = opened.some((one) => one !== name && !before.includes(one) && closed().map(nameOf).includes(one));
      if (sheet || shut || closes) {
        const within = sheet ?? (place.isConnected ? place : document);
        unfold(within);
        await drawn();
        await judge(wrong, `open: ${name}`, least, within);
        alone.push(name);
      }
      if (!opened.includes(name)) opened.push(name);
      sheet?.close();
    }
    if (unfolded > 0 || opened.length > 0) await judge(wrong, 'all open', least, document);
    return [wrong, opened];
  }

  globalThis.judging = { violations, smallTargets, eachState };
})();
