// The app as a person sees it: what a finger does and what an eye reads.

export class App {
  constructor(page, host) {
    this.page = page;
    this.host = host;
    this.heading = page.getByRole("heading", { level: 1 });
    this.updateBar = page.getByRole("status").filter({ hasText: "New version ready" });
    this.restart = page.getByRole("button", { name: "Restart" });
  }

  // Opens the first screen, or what an address below the app names, and waits until it is drawn by
  // itself, beyond the page's first paint.
  async open(hash = "") {
    await this.page.goto(this.host.url + hash);
    await this.started();
  }

  async reload() {
    await this.page.reload();
    await this.started();
  }

  async started() {
    await this.page.locator("#app :not(main.opening)").first().waitFor();
    await this.page.locator("main.opening").waitFor({ state: "detached" });
    await this.heading.waitFor();
  }

  // Waits until the app is on the device whole.
  async keptOffline() {
    await this.page.evaluate(async () => {
      const workers = navigator.serviceWorker;
      if (workers.controller === null) {
        await new Promise((taken) => workers.addEventListener("controllerchange", taken, { once: true }));
      }
    });
  }

  // The name of the build that the page runs.
  build() {
    return this.page.locator('meta[name="bothends-build"]').getAttribute("content");
  }

  // Asks for a new version, as the app does whenever a person comes back to it.
  async comeBack() {
    await this.page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
  }
}
