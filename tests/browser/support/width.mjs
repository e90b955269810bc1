// Whether a page sticks out of the phone sideways.

// How many pixels the page is wider than the screen, or less than one. The screen is asked, not the
// window: a browser on a phone makes the window as wide as what is too wide for it.
export function tooWide(page) {
  return page.evaluate(() => document.documentElement.scrollWidth - screen.width);
}
