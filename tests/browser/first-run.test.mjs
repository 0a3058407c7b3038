// From an empty kitchen to the label of a first cake, without anything but what the pages say.
import { test } from "node:test";
import assert from "node:assert/strict";
import { Kitchen, Tablet, pin } from "./kitchen.mjs";

test("an empty kitchen comes to its first label", async () => {
  const kitchen = await new Kitchen().open();
  const tablet = await Tablet.start(kitchen);
  const { page } = tablet;
  const began = Date.now();

  await tablet.go("/");
  await tablet.lookOverAtEveryWidth("let-in");
  await tablet.letIn(kitchen.code);
  await tablet.lookOverAtEveryWidth("begin");
  await page.getByLabel("Name of the business").fill("Kitchen by the Mill");
  await page.getByLabel("Its address").fill("4 Weir Walk\nSampletown");
  await page.getByLabel("Where you sell").selectOption("gb");
  await page.getByLabel("Where the kitchen is").selectOption("gb-eng");
  await page.getByLabel("Records are kept by the rules of").selectOption("gb");
  await page.getByLabel("Time zone").fill("Europe/London");
  await page.getByRole("textbox", { name: "Height above the sea" }).fill("40");
  await page.getByLabel("Your name").fill("Ada Example");
  await page.getByLabel("Choose a PIN").fill("123456");
  await tablet.press("Begin the records");
  await tablet.lookOver("begin-refused");
  assert.match(await page.locator("form").innerText(), /Nothing was booked/);
  await page.getByLabel("Choose a PIN").fill(pin);
  await tablet.press("Begin the records");
  await tablet.lookOverAtEveryWidth("who");
  await page.getByLabel("PIN").fill(pin);
  await tablet.press("Come in");
  for (const place of ["cupboard", "bench", "cold", "leaving", "gone", "drawer"]) {
    await tablet.go(`/${place}`);
    await tablet.lookOverAtEveryWidth(`empty-${place}`);
  }

  const foods = [
    { name: "plain flour", text: "wheat flour", contains: ["gluten:wheat"], storage: "at room temperature" },
    { name: "caster sugar", text: "sugar", is: "a sugar", storage: "at room temperature" },
    { name: "unsalted butter", text: "butter (milk)", is: "food from animals, such as butter or cream", storage: "in the fridge" },
    { name: "hen's eggs", text: "eggs", egg: "eggs in the shell", storage: "at room temperature" },
  ];
  for (const [number, food] of foods.entries()) {
    await tablet.go("/cupboard/new");
    if (number === 0) await tablet.lookOverAtEveryWidth("new-food");
    await page.getByLabel("What is it?").fill(food.name);
    if (number === 0) {
      await page.getByLabel("Who sells it").fill("The Shop");
      await page.getByLabel("Their address").fill("2 High Street, Sampletown");
    } else {
      await page.getByLabel("Who sells it").selectOption({ label: "The Shop" });
    }
    if (food.egg) await tablet.choose("Is it egg?", food.egg);
    if (food.is) await tablet.tick("It is", food.is);
    await tablet.press("Next: what the pack says");
    await tablet.booked();
    await page.getByLabel("What the pack says it is made of").fill(food.text);
    await tablet.choose("How it is kept", food.storage);
    await tablet.press("Read it");
    await page.getByLabel("I read all of it", { exact: false }).check();
    if (number === 0) await tablet.lookOverAtEveryWidth("what-was-understood");
    await tablet.press("This is what the pack says");
    await tablet.booked();
    await page.getByLabel("From", { exact: false }).first().selectOption({ label: "The Shop" });
    await page.getByLabel("Code on the pack").fill(`C${number + 1}`);
    await page.getByLabel("How much").fill(number === 0 ? "1500,5" : "1000");
    const day = new Date(Date.now() + 20 * 86400000).toISOString().slice(0, 10);
    await page.getByLabel("Best before").fill(day);
    if (food.is?.includes("animals") || food.egg) {
      await page.getByText("Scanned code, eggs, delivery note").click();
      await page.getByLabel("Sent on").fill(new Date(Date.now() - 86400000).toISOString().slice(0, 10));
    }
    if (number === 0) await tablet.lookOverAtEveryWidth("pack-in");
    await tablet.press("Book it in");
    await tablet.booked();
  }
  await tablet.lookOverAtEveryWidth("cupboard");

  await tablet.go("/bench/kit");
  await page.getByLabel("What is it?").fill("cake tin");
  await tablet.press("Keep it");
  await tablet.booked();
  await tablet.go("/bench/new");
  await tablet.lookOverAtEveryWidth("new-recipe");
  await page.getByLabel("What is it called?").fill("vanilla sponge");
  await tablet.choose("It is", "a sponge");
  for (const [number, food] of foods.entries()) {
    await page.locator(`[name=of-${number + 1}]`).selectOption({ label: food.name });
    await page.locator(`[name=mass-${number + 1}]`).fill("200");
  }
  await page.getByLabel("What it weighs when finished").fill("740");
  await tablet.choose("Egg in it", "baked through");
  await tablet.choose("It has to be kept", "at room temperature");
  await page.getByLabel("Days it keeps").fill("3");
  await tablet.tick("Made with", "cake tin");
  await tablet.press("Keep this recipe");
  await tablet.booked();
  await tablet.lookOverAtEveryWidth("recipe");
  await page.getByLabel("What it weighed when finished").fill("735");
  await tablet.press("It is made");
  await tablet.booked();
  await tablet.lookOverAtEveryWidth("batch");

  await tablet.go("/leaving/new");
  await tablet.lookOverAtEveryWidth("new-order");
  await page.getByLabel("What is it?").fill("Vanilla sponge");
  await page.getByLabel("For which day").fill(new Date(Date.now() + 86400000).toISOString().slice(0, 10));
  const answers = await page.getByRole("group").filter({ has: page.locator("[name=boxed]") }).locator("label").allInnerTexts();
  assert.ok(answers.length >= 2, "how it is boxed has answers");
  for (const name of ["boxed", "sold-by", "ordered"]) await page.locator(`[name=${name}]`).first().check();
  await page.getByLabel("Largest side of the box").fill("600");
  await tablet.choose("Did you ask about allergies?", "asked: none");
  await page.getByLabel("Who answered, and how").fill("the customer, in the shop");
  await tablet.press("Take the order");
  await tablet.booked();
  await page.locator("#build input.number").first().fill("735");
  await tablet.press("It is built");
  await tablet.booked();
  await tablet.lookOverAtEveryWidth("cake");
  await page.locator("#papers").getByRole("link", { name: "Label", exact: true }).click();
  await page.waitForFunction(() => document.querySelector("img.preview")?.naturalWidth > 100);
  await tablet.lookOverAtEveryWidth("label");
  await tablet.press("Print this label");
  await tablet.booked();
  const href = await page.locator("#papers a[href^='/paper/']").first().getAttribute("href");
  const paper = await page.evaluate(async (path) => {
    const answer = await fetch(path);
    return { type: answer.headers.get("content-type"), starts: (await answer.text()).slice(0, 5) };
  }, href);
  assert.deepEqual(paper, { type: "application/pdf", starts: "%PDF-" });
  await tablet.go("/leaving");
  await tablet.lookOverAtEveryWidth("leaving");

  // A page that has not heard from the machine for two minutes says so, and nothing can be released from it.
  await page.clock.install();
  await tablet.go("/leaving/cake/cake-1");
  await page.route("**/news", (route) => route.abort());
  await page.clock.runFor(119000);
  assert.ok(await page.locator("#stale").isHidden());
  assert.ok(await page.locator("button.needs-fresh").isEnabled());
  await page.clock.runFor(5000);
  assert.match(await page.locator("#stale").innerText(), /NOT UP TO DATE/);
  assert.ok(await page.locator("button.needs-fresh").isDisabled());
  await tablet.lookOver("stale");
  await page.unroute("**/news");
  await tablet.go("/leaving/cake/cake-1");

  // The decision, with a reason for what nothing shows, and the hand-over.
  for (const reason of await page.locator("#decide input[name^=against-]").all()) await reason.fill("looked at, and told to the customer");
  await page.locator("#decide").getByLabel("Your PIN").fill(pin);
  await tablet.press("OK to leave");
  await tablet.booked();
  // Somebody answered for standing without a fridge, so the label that said fridge is not the one to leave with.
  assert.match(await page.locator("main").innerText(), /print the label again/);
  await tablet.go("/leaving/label/cake-1");
  await tablet.press("Print this label");
  await tablet.booked();
  await page.getByLabel("Who takes it").fill("the customer");
  await page.getByLabel("What you tell them").last().fill("contains wheat, milk and eggs");
  await tablet.press("It is handed over");
  await tablet.booked();
  assert.match(await page.locator("main").innerText(), /Handed over/);
  console.log(`first label after ${Math.round((Date.now() - began) / 1000)} s, every page looked over at four widths`);
  await tablet.end();
  await kitchen.end();
});
