// The rack as a rack builder sees it: each method that taps counts its taps.

export class Rack {
  constructor(page, host, job) {
    this.page = page;
    this.host = host;
    this.job = job;
    this.taps = 0;
    this.heading = page.getByRole("heading", { level: 1 });
    this.notice = page.locator(".notices");
    this.saved = page.locator("#saved");
  }

  // Goes straight to a screen of the job, as a bookmark does.
  async goto(screen) {
    await this.page.goto(`${this.host.url}#/${this.job.id}/${screen}`);
    await this.heading.waitFor();
  }

  // Opens the job's racks.
  async open() {
    await this.goto("rack");
    await this.page.locator(".rack-line, .panel-row").first().waitFor();
    const folded = this.page.locator('.rack-line[aria-expanded="false"]');
    if ((await folded.count()) > 0) {
      await folded.first().click();
    }
    await this.panels.first().waitFor();
  }

  get panels() {
    return this.page.locator(".panel-row");
  }

  async tap(locator) {
    this.taps += 1;
    await locator.click();
  }

  button(name) {
    return this.page.getByRole("button", { name, exact: typeof name === "string" });
  }

  // Taps the section at the bottom.
  async section() {
    await this.tap(this.page.getByRole("navigation").getByRole("button", { name: "Rack" }));
  }

  async panel(letters) {
    const row = this.panels.filter({ has: this.page.locator(".panel-letters", { hasText: new RegExp(`^${letters}$`) }) });
    // It may be in a rack that is folded.
    const folded = this.page.locator('.rack-line[aria-expanded="false"]');
    for (let at = 0; (await row.count()) === 0 && at < (await folded.count()); at += 1) {
      await folded.nth(at).click();
      await this.page.waitForTimeout(100);
    }
    await this.tap(row);
    await this.page.getByRole("heading", { level: 1, name: `Panel ${letters}`, exact: true }).waitFor();
  }

  async key(label) {
    const keys = this.page.locator(".key").filter({ has: this.page.locator(".code", { hasText: new RegExp(`^${label}$`) }) });
    await this.tap(keys);
  }

  keys() {
    return this.page.locator(".key .code").allInnerTexts();
  }

  // The numbers of the positions, from left to right and row by row as drawn.
  drawn() {
    return this.page.locator(".port .port-number").allTextContents();
  }

  // The state of a position, by the word in the list.
  async position(code) {
    await this.tap(this.page.locator(".slot-row").filter({ has: this.page.locator(".row-lead", { hasText: code }) }));
    await this.page.getByRole("heading", { level: 1, name: code }).waitFor();
  }

  async row(code) {
    const row = this.page.locator(".slot-row").filter({ has: this.page.locator(".row-lead", { hasText: code }) });
    const words = await row.locator(".row-text, .row-note").allInnerTexts();
    return words.map((text) => text.replace(/\s+/g, " ").trim()).join("; ");
  }

  // Waits until what was done is on the disk.
  async stored() {
    await this.saved.filter({ hasText: "Saved" }).waitFor();
  }
}
