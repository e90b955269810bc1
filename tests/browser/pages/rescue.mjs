// The page, and the screen after a stop, where records are taken out without the app.

import { readFile } from "node:fs/promises";

export class Rescue {
  constructor(page, host) {
    this.page = page;
    this.host = host;
    this.status = page.getByRole("status");
    this.save = page.getByRole("link", { name: /^Save .* as a file$/ });
    this.openAgain = page.getByRole("button", { name: "Open the app again" });
  }

  async open() {
    await this.page.goto(`${this.host.url}rescue.html`);
  }

  // Taps the link of a job and gives the file's name and text.
  async saved(at = 0) {
    const [download] = await Promise.all([this.page.waitForEvent("download"), this.save.nth(at).click()]);
    return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
  }
}
