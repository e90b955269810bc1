// Pictures as a person takes them and looks at them.

import { Wall } from "./wall.mjs";

export class Pictures extends Wall {
  constructor(page, host) {
    super(page, host);
    this.shots = page.locator(".shot");
    this.whole = page.locator(".picture img");
    this.marks = page.locator(".marks > svg");
  }

  // Taps a way to bring pictures in and gives these files.
  async give(files, way = "Choose pictures") {
    const [chooser] = await Promise.all([this.page.waitForEvent("filechooser"), this.tap(way)]);
    await chooser.setFiles(files.map((buffer, at) => ({ name: `photo-${at}.jpg`, mimeType: "image/jpeg", buffer })));
    return chooser;
  }

  // Waits until so many are shown, each of them drawn.
  async shown(count) {
    await this.page.waitForFunction((count) => {
      const images = [...document.querySelectorAll(".shot img")];
      return images.length === count && images.every((image) => image.complete && image.naturalWidth > 0);
    }, count);
  }

  async openShot(at = 0) {
    await this.shots.nth(at).click();
    await this.at("Picture");
    await this.page.waitForFunction(() => document.querySelector(".picture img")?.naturalWidth > 0);
  }

  // Taps a place of the picture, given as shares of its sides.
  async tapAt(x, y) {
    await this.whole.scrollIntoViewIfNeeded();
    const { width, height } = await this.whole.boundingBox();
    await this.whole.click({ position: { x: width * x, y: height * y } });
  }

  // Where the marks stand, as shares of the sides of the picture.
  places() {
    return this.page.evaluate(() => {
      const whole = document.querySelector(".picture img").getBoundingClientRect();
      return [...document.querySelectorAll(".marks circle")].map((mark) => {
        const box = mark.getBoundingClientRect();
        return {
          x: (box.x + box.width / 2 - whole.x) / whole.width,
          y: (box.y + box.height / 2 - whole.y) / whole.height,
        };
      });
    });
  }
}
