/** What an educator does with photos at the desk, in a real browser: for stories. Nothing of it types any syntax. */
import sharp from "sharp";
import type { ElementHandle, Page } from "puppeteer-core";

/** A picture as a phone writes it: lying on its side, with camera, owner, place and day. */
export const phonePicture = (red: number): Promise<Buffer> =>
  sharp({ create: { width: 1600, height: 1200, channels: 3, background: { r: red, g: 90, b: 120 } } })
    .withExif({
      IFD0: { Copyright: "OWNER", Make: "CAMERA" },
      IFD2: { DateTimeOriginal: "2026:05:07 10:41:09" },
      IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 3/1 0/1" },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();

/** Whether the desk has said that it saved. */
export const untilSaid = (page: Page, what: string): Promise<unknown> =>
  page.waitForFunction(
    (said) => document.querySelector("#said")?.textContent.includes(said),
    { timeout: 180_000 },
    what,
  );

/** Chooses a picture for a step, says what it shows, and takes it in; three actions. */
export async function takeIn(page: Page, step: number, file: string, alt: string): Promise<void> {
  const form = `#take-${step}`;
  await unfold(page, `#step-${step} > details`);
  await unfold(page, form);
  await ((await page.$(`${form} input[type=file]`)) as ElementHandle<HTMLInputElement>).uploadFile(file);
  await page.locator(`${form} textarea`).click();
  await page.keyboard.type(alt);
  // What was said of the photo before says nothing of this one.
  await page.$eval("#said", (said) => (said.textContent = ""));
  await page.locator(`${form} button[type=submit]`).click();
  await untilSaid(page, "Saved.");
}

/**
 * Opens a fold by pressing on it, again where the page has moved under the press: what was saved before may still come
 * in above it.
 */
async function unfold(page: Page, details: string): Promise<void> {
  while (!(await page.$(`${details}[open]`))) await page.locator(`${details} > summary`).click();
}

/** Presses on the picture at fractions of it, and says what is there; does not wait for it to be put in. */
export async function nameAt(page: Page, x: number, y: number, label: string): Promise<void> {
  await page.$eval("#picture", (picture) => picture.scrollIntoView({ block: "center" }));
  const box = (await (await page.$("#picture"))!.boundingBox())!;
  await page.mouse.click(box.x + box.width * x, box.y + box.height * y);
  await page.keyboard.type(label);
  await page.keyboard.press("Enter");
}

/** As `nameAt`, until the screen has the mark. */
export async function markAt(page: Page, x: number, y: number, label: string): Promise<void> {
  await nameAt(page, x, y, label);
  await page.waitForFunction(
    (said) => [...document.querySelectorAll<HTMLElement>(".spot")].some((each) => each.dataset["name"]?.includes(said)),
    { timeout: 180_000 },
    label,
  );
}
