// The screens at the wall as a person uses them, from a new job on.

import { App } from "./app.mjs";

export class Wall {
  constructor(page, host) {
    this.page = page;
    this.app = new App(page, host);
    this.heading = this.app.heading;
    this.plate = page.getByRole("img", { name: /^Plate of/ });
    this.notices = page.locator(".notices");
    this.undo = page.getByRole("button", { name: "Undo", exact: true });
    this.penText = page.locator(".pen-text text");
    this.mark = page.locator(".big-number");
  }

  button(name, exact = typeof name === "string") {
    return this.page.getByRole("button", { name, exact });
  }

  async tap(name) {
    await this.button(name).first().click();
  }

  // Starts a job and goes to the wall.
  async begin(name = "Marrowby Mill") {
    await this.app.open();
    await this.page.getByLabel("Name of the job").fill(name);
    await this.tap("Start this job");
    await this.toWall();
  }

  async toWall() {
    await this.page.getByRole("navigation").getByRole("button", { name: "Wall" }).click();
    await this.at("At the wall");
  }

  // Waits until this is the heading.
  async at(heading) {
    await this.page.getByRole("heading", { level: 1, name: heading }).waitFor();
  }

  async addRoom(name) {
    await this.page.getByLabel("Name of the room").fill(name);
    await this.tap("Add this room");
    await this.page.locator(".row", { hasText: name }).waitFor();
  }

  async openRoom(name) {
    await this.page.locator(".row-button", { hasText: name }).click();
    await this.at(new RegExp(name));
  }

  // Adds an outlet of a type, in one tap.
  async addOutlet(type, purpose = "") {
    const rows = this.page.locator(".row");
    const before = await rows.count();
    if (purpose !== "") {
      await this.page.getByLabel("What it is for, if you want").fill(purpose);
    }
    await this.page.locator(".kind", { has: this.page.getByText(type, { exact: true }) }).click();
    await rows.nth(before).waitFor();
  }

  async openOutlet(code) {
    await this.page.locator(".row-button", { hasText: code }).click();
    await this.at(new RegExp(code));
  }

  row(code) {
    return this.page.locator(".row", { has: this.page.locator(".row-button.cable", { hasText: code }) });
  }

  async openCable(code) {
    await this.page.locator(".row-button.cable", { hasText: code }).click();
  }

  // Waits until everything is on the disk.
  async saved() {
    await this.page.getByText("✓ Saved").waitFor();
  }

  // A kitchen with a television outlet, KIT1, which is open at the end.
  async kitchen() {
    await this.begin();
    await this.addRoom("Kitchen");
    await this.openRoom("Kitchen");
    await this.addOutlet("TV");
    await this.openOutlet("KIT1");
  }
}
