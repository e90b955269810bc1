// The page, and the screen after a stop, where records are taken out without the app.

import { readFile } from "node:fs/promises";

export class Rescue {
  constructor(page, host) {
    this.page = page;
    this.host = host;
    this.status = page.getByRole("status");
    this.save = page.getByRole("link", { name: "Save the records as a file" });
    this.openAgain = page.getByRole("button", { name: "Open the app again" });
  }

  async open() {
    await this.page.goto(`${this.host.url}rescue.html`);
  }

  // Taps the link and gives the file's name and text.
  async saved() {
    const [download] = await Promise.all([this.page.waitForEvent("download"), this.save.click()]);
    return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
  }
}
