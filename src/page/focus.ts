/**
 * Where the focus goes when the control that had it leaves the page, so that a keyboard never starts from the top
 * again.
 */

/** To the region around a control that is about to go. */
export function focusRegion(control: Element): void {
  control.closest<HTMLElement>('section[tabindex="0"]')?.focus({ preventScroll: true });
}

/** To the button of the pivot that has just been picked, once it is drawn as such. */
export function focusPicked(): void {
  requestAnimationFrame(() =>
    document.querySelector<HTMLElement>('.pivot-button[aria-pressed="true"]')?.focus({ preventScroll: true }),
  );
}

/** To a section of the side card by its name, which comes to the head of the card, once it is drawn. */
export function focusSection(name: string): void {
  requestAnimationFrame(() => {
    const section = document.querySelector<HTMLElement>(`[data-section="${CSS.escape(name)}"]`);
    const card = section?.closest<HTMLElement>('.scroll');
    if (!section || !card) return;
    // Scrolls the card alone; scrollIntoView would move the page as well.
    card.scrollTop += section.getBoundingClientRect().top - card.getBoundingClientRect().top;
    section.focus({ preventScroll: true });
  });
}
