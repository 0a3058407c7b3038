// A kitchen of its own for one browser test: the program serves it, a real Chromium opens it. Every page that a test looks at is held
// against the rules for accessibility, every target is measured, and no request may leave for another host.
import { spawn, execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, copyFileSync, readFileSync, existsSync, mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import assert from "node:assert/strict";
import { after } from "node:test";
import { chromium } from "playwright-core";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const program = process.env.TIERPROOF_PROGRAM;
export const pictures = process.env.TIERPROOF_PICTURES;
const smallestTarget = 48;

export const pin = "740292";

// Whatever a test that failed left open is shut at the end of its file.
const opened = [];
after(async () => {
  for (const one of opened.reverse()) await one.shutAtTheEnd();
});

/// The program serving one kitchen file, and how to stop it and start it again.
export class Kitchen {
  constructor(demo) {
    this.folder = mkdtempSync(join(tmpdir(), "tierproof-browser-"));
    this.file = join(this.folder, "kitchen.tierproof");
    this.port = 20000 + Math.floor(Math.random() * 40000);
    opened.push(this);
    if (demo) copyFileSync(demo.file, this.file);
    this.demo = demo;
    this.began = Date.now();
    if (demo) this.run(["pin", demo.owner, "--by", demo.owner], `${pin}\n`);
  }
  /// The clock of a demo, which goes on whether it is served or not.
  get clock() {
    return this.demo ? ["--now", new Date(Date.parse(this.demo.now) + Date.now() - this.began).toISOString()] : [];
  }
  run(args, input = "") {
    return execFileSync(program, ["--kitchen", this.file, ...args], { input, encoding: "utf8", env: { ...process.env, TIERPROOF_NOW: "" } });
  }
  async open() {
    this.served = spawn(program, ["--kitchen", this.file, ...this.clock, "serve", "--port", String(this.port)]);
    this.said = "";
    this.served.stdout.on("data", (text) => (this.said += text));
    this.served.stderr.on("data", (text) => (this.said += text));
    for (let tries = 0; !this.said.includes("pages are open"); ++tries) {
      assert.ok(tries < 300 && this.served.exitCode === null, `the pages did not open: ${this.said}`);
      await new Promise((done) => setTimeout(done, 100));
    }
    this.url = `http://127.0.0.1:${this.port}`;
    return this;
  }
  get code() {
    return /code to let the first device in, within ten minutes: ([0-9 ]+)/.exec(this.said)[1].trim();
  }
  async shut() {
    const ended = new Promise((done) => this.served.on("exit", done));
    this.served.kill("SIGTERM");
    await ended;
  }
  async end() {
    if (this.served && this.served.exitCode === null && this.served.signalCode === null) await this.shut();
    rmSync(this.folder, { recursive: true, force: true });
  }
  async shutAtTheEnd() {
    await this.end();
  }
}

/// One browser with its own cookies, as one tablet.
export class Tablet {
  static async start(kitchen, { width = 820, height = 1180, scripts = true } = {}) {
    const tablet = new Tablet();
    opened.push(tablet);
    tablet.kitchen = kitchen;
    tablet.browser = await chromium.launch({
      executablePath: execFileSync("sh", ["-c", "command -v chromium"], { encoding: "utf8" }).trim(),
      args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    });
    tablet.context = await tablet.browser.newContext({ viewport: { width, height }, javaScriptEnabled: scripts, locale: "en-GB", timezoneId: "Europe/London" });
    tablet.context.setDefaultTimeout(15000);
    tablet.page = await tablet.context.newPage();
    tablet.elsewhere = [];
    tablet.errors = [];
    tablet.context.on("request", (request) => {
      const to = new URL(request.url());
      if (!["data:", "about:"].includes(to.protocol) && to.host !== `127.0.0.1:${kitchen.port}`) tablet.elsewhere.push(request.url());
    });
    tablet.page.on("pageerror", (error) => tablet.errors.push(String(error)));
    tablet.page.on("console", (message) => {
      if (message.type() === "error" && /Content Security Policy|Refused/.test(message.text())) tablet.errors.push(message.text());
    });
    return tablet;
  }
  async go(path) {
    await this.page.goto(this.kitchen.url + path);
  }
  async letIn(code, name = "by the mixer") {
    await this.go("/let-in");
    await this.page.getByLabel("Code").fill(code);
    await this.page.getByLabel("What this device is called").fill(name);
    await this.page.getByRole("button", { name: "Let it in" }).click();
  }
  async signIn(name) {
    await this.go("/who");
    if (name) await this.choose("Name", name);
    await this.page.getByLabel("PIN").fill(pin);
    await this.page.getByRole("button", { name: "Come in" }).click();
    await this.page.waitForURL(/bench|cupboard/);
  }
  /// Taps a tile of the group called `group`.
  async choose(group, words) {
    await this.page.getByRole("group", { name: group }).getByLabel(words, { exact: true }).check();
  }
  async tick(group, words) {
    await this.choose(group, words);
  }
  async press(name) {
    this.before = this.page.url();
    await this.page.getByRole("button", { name, exact: true }).click();
  }
  /// After a press: waits for the page that says that it was booked.
  async booked() {
    await this.page.waitForURL((url) => url.href !== this.before && url.searchParams.has("booked"));
    await this.page.waitForSelector(".booked");
  }
  /// Fails with everything that a rule of accessibility, a box smaller than a wet thumb or a page wider than its window says.
  async lookOver(what) {
    const found = [];
    if (!(await this.page.evaluate(() => "axe" in window))) await this.page.evaluate(axeSource);
    const told = await this.page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"] }));
    for (const one of told.violations) found.push(`${one.id}: ${one.help}: ${one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(" | ")}`);
    found.push(
      ...(await this.page.evaluate((smallest) => {
        const small = [];
        for (const target of document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")) {
          if (!target.checkVisibility({ visibilityProperty: true })) continue;
          const box = target.getBoundingClientRect();
          if (box.bottom < 0 || box.width === 0) continue; // the link past the places, until it has the focus
          if (box.height < smallest - 0.5 || box.width < smallest - 0.5)
            small.push(`target ${Math.round(box.width)} x ${Math.round(box.height)} px: ${target.outerHTML.slice(0, 120)}`);
        }
        if (document.documentElement.scrollWidth > window.innerWidth + 1) {
          const wide = [...document.querySelectorAll("main *, .top *, .places *")].filter((one) => one.getBoundingClientRect().right > window.innerWidth + 1 && !one.closest(".wide"));
          small.push(`the page is ${document.documentElement.scrollWidth} px wide: ${wide.slice(0, 3).map((one) => one.outerHTML.slice(0, 100))}`);
        }
        return small;
      }, smallestTarget)),
    );
    if (pictures) {
      mkdirSync(pictures, { recursive: true });
      await this.page.screenshot({ path: join(pictures, `${what}-${this.page.viewportSize().width}.png`), fullPage: true });
    }
    assert.deepEqual(found, [], `${what} at ${this.page.viewportSize().width} px (${this.page.url()})`);
  }
  /// The same at the widths of a telephone, a tablet and a screen, and at the narrowest that has to do.
  async lookOverAtEveryWidth(what) {
    const before = this.page.viewportSize();
    for (const width of [320, 390, 820, 1280]) {
      await this.page.setViewportSize({ width, height: 900 });
      await this.lookOver(what);
    }
    await this.page.setViewportSize(before);
  }
  async end() {
    assert.deepEqual(this.elsewhere, [], "requests to another host");
    assert.deepEqual([...new Set(this.errors)], [], "errors of the pages' script or of what it may load");
    await this.browser.close();
  }
  async shutAtTheEnd() {
    await this.browser?.close();
  }
}

/// The demo kitchen, three weeks of which `reports/demo` recorded.
export function demoKitchen() {
  const file = process.env.TIERPROOF_DEMO_FILE;
  assert.ok(file && existsSync(file), "TIERPROOF_DEMO_FILE names the file of the demo kitchen");
  return { file, owner: process.env.TIERPROOF_DEMO_OWNER, now: process.env.TIERPROOF_DEMO_NOW };
}
