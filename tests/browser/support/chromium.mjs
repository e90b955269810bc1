// The browser as every test starts it.

import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { chromium } from "playwright-core";

const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
const args = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

// A phone of common size: 390 by 844 CSS pixels, with touch.
export const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, isMobile: true, hasTouch: true };

// A browser for tests that keep nothing.
export function launch(extra = []) {
  return chromium.launch({ executablePath, args: [...args, ...extra] });
}

// A browser with a profile of its own on disk, as a person's is: service workers and storage last
// until `close`, and `reopen` starts a new process on the same profile.
export async function launchProfile(options = {}) {
  const folder = await mkdtemp(join(tmpdir(), "bothends-profile-"));
  const { extra = [], ...wishes } = options;
  const begin = () =>
    chromium.launchPersistentContext(folder, {
      executablePath,
      args: [...args, ...extra],
      serviceWorkers: "allow",
      acceptDownloads: true,
      ...PHONE,
      ...wishes,
    });
  const profile = {
    folder,
    context: await begin(),
    async reopen() {
      await profile.context.close();
      profile.context = await begin();
      return profile.context;
    },
    async close() {
      await profile.context.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
  return profile;
}
