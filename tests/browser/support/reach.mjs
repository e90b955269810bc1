// What a thumb and a keyboard reach on a page.

const TARGETS = "button, a[href], input, select, textarea, summary, [tabindex='0']";

// The places that are narrower or lower than a thumb needs, in CSS pixels. A box to tick counts with its
// label; a link within a sentence is as high as its line (WCAG 2.2, 2.5.8, inline).
export function tooSmall(page, least = 48) {
  return page.evaluate(
    ([targets, least]) => {
      const shown = [...document.querySelectorAll(targets)].filter((one) => one.checkVisibility({ visibilityProperty: true }));
      const box = (one) => (one.closest("label") ?? one).getBoundingClientRect();
      const inline = (one) => one.matches("p a") && getComputedStyle(one).display === "inline";
      const hidden = (one) => one.matches(".skip, .visually-hidden");
      return shown
        .filter((one) => !inline(one) && !hidden(one))
        .filter((one) => Math.round(box(one).width) < least || Math.round(box(one).height) < least)
        .map((one) => `${one.outerHTML.slice(0, 120)}: ${Math.round(box(one).width)} by ${Math.round(box(one).height)}`);
    },
    [TARGETS, least],
  );
}

// What a keyboard does not reach, or reaches without showing it.
export async function unreached(page) {
  const count = await page.evaluate((targets) => {
    document.activeElement?.blur();
    const skipped = (one) => one.disabled || one.tabIndex < 0 || (one.type === "radio" && !one.checked);
    const shown = [...document.querySelectorAll(targets)].filter((one) => one.checkVisibility({ visibilityProperty: true }) && !skipped(one));
    for (const one of shown) {
      one.dataset.unreached = "";
    }
    return shown.length;
  }, TARGETS);
  const bare = [];
  for (let presses = 0; presses < count + 5; presses += 1) {
    await page.keyboard.press("Tab");
    const plain = await page.evaluate(() => {
      const one = document.activeElement;
      if (one === null || one === document.body) {
        return undefined;
      }
      delete one.dataset.unreached;
      const style = getComputedStyle(one);
      const isShown = style.outlineStyle !== "none" && Number.parseFloat(style.outlineWidth) >= 2;
      const bar = document.querySelector(".bottom");
      const isCovered = bar !== null && !bar.contains(one) && one.getBoundingClientRect().top >= bar.getBoundingClientRect().top;
      const words = one.outerHTML.slice(0, 120);
      return isCovered ? `the bar hides ${words}` : isShown ? undefined : `no focus is seen on ${words}`;
    });
    if (plain) {
      bare.push(plain);
    }
  }
  const left = await page.evaluate(() => {
    const left = [...document.querySelectorAll("[data-unreached]")];
    return left.map((one) => `not reached: ${one.outerHTML.slice(0, 120)}`);
  });
  return [...bare, ...left];
}

// Text that is cut off where nothing scrolls, to the side or below, as by a clamp on its lines.
export function cutOff(page) {
  return page.evaluate(() => {
    const all = [...document.querySelectorAll("body *")].filter((one) => one.checkVisibility() && !one.matches(".visually-hidden, .skip, svg *"));
    const clips = (way) => ["hidden", "clip"].includes(way);
    const cut = all.filter((one) => {
      const { overflowX, overflowY } = getComputedStyle(one);
      const isWide = clips(overflowX) && one.scrollWidth > one.clientWidth + 1;
      const isHigh = clips(overflowY) && one.scrollHeight > one.clientHeight + 1;
      return (isWide || isHigh) && one.innerText?.trim();
    });
    return cut.map((one) => `${one.outerHTML.slice(0, 120)}: ${one.scrollWidth} by ${one.scrollHeight} in ${one.clientWidth} by ${one.clientHeight}`);
  });
}

// Codes that go on in the next line, and words of the navigation that do: "C0" above "4" reads as two.
export function brokenInside(page) {
  return page.evaluate(() => {
    const CODE = /(?<![\p{L}\p{N}])\p{Lu}{1,7}\d{1,3}(?:-[\p{Lu}\d]{1,3})?(?![\p{L}\p{N}])/gu;
    const broken = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!parent.checkVisibility({ visibilityProperty: true }) || parent.closest(".visually-hidden, .skip, svg, textarea, option")) {
        continue;
      }
      const isWhole = parent.closest(".code:not(.in-words)") !== null || parent.closest("nav") !== null;
      for (const { 0: word, index } of node.data.matchAll(isWhole ? /\S+/g : CODE)) {
        const range = document.createRange();
        range.setStart(node, index);
        range.setEnd(node, index + word.length);
        const lines = new Set([...range.getClientRects()].filter(({ width }) => width > 0).map(({ bottom }) => Math.round(bottom)));
        if (lines.size > 1) {
          broken.push(`${word} in ${parent.outerHTML.slice(0, 120)}`);
        }
      }
    }
    return broken;
  });
}

// What the first Tab behind the heading meets, and where that leads: the words of the place that is seen to have
// the focus, then the part of the page that the next Tab is in.
export async function skipped(page) {
  await page.evaluate(() => document.getElementById("heading").focus());
  await page.keyboard.press("Tab");
  const met = await page.evaluate(() => {
    const { left, top, right, bottom, height } = document.activeElement.getBoundingClientRect();
    const isSeen = getComputedStyle(document.activeElement).clipPath === "none" && height >= 48;
    const isOnScreen = left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight;
    return `${document.activeElement.innerText}${isSeen && isOnScreen ? "" : ", not seen"}`;
  });
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.activeElement.id === "actions");
  await page.keyboard.press("Tab");
  return [met, await page.evaluate(() => (document.activeElement.closest(".bottom") ? "the bar" : document.activeElement.outerHTML))];
}

// How much of the screen the bar at the bottom takes, and what of it is cut off or stands in a second row.
export function bar(page) {
  return page.evaluate(() => {
    const bar = document.querySelector(".bottom");
    const tops = (of) => new Set([...document.querySelectorAll(of)].map((one) => Math.round(one.getBoundingClientRect().top)));
    return {
      share: bar.getBoundingClientRect().height / innerHeight,
      cut: bar.scrollHeight - bar.clientHeight > 1,
      rows: tops(".sections > :not(.back)").size,
      dismissed: tops(".notice > .small:first-of-type, .notice > .plain").size,
    };
  });
}

// What still moves.
export function moving(page) {
  return page.evaluate(() => document.getAnimations().filter((one) => one.playState === "running").length);
}
