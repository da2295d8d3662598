/** How somebody works at a screen of the desk: with a pointer, or by keyboard alone; what they do is counted. */
import type { ElementHandle, Page } from "puppeteer-core";

/** A control by its CSS selector. */
export interface Hands {
  /** Presses a button, opens a summary, follows a link, or ticks a box. */
  readonly press: (selector: string) => Promise<void>;
  /** Writes a text into a field that is empty, or in the place of what it says. */
  readonly type: (selector: string, text: string) => Promise<void>;
  /** Chooses from a list by what is sent. */
  readonly choose: (selector: string, value: string) => Promise<void>;
  /** Chooses a file of this machine; the dialog for it is the system's, and one action. */
  readonly bring: (selector: string, path: string) => Promise<void>;
  /** Actions so far: a press, a choice, a text; by keyboard every key but those of a text. */
  readonly actions: () => number;
}

/** Until what was done last is shown: nothing moves under the pointer or the focus any more. */
export const untilShown = (page: Page) =>
  page.waitForFunction(() => document.querySelector("main")?.getAttribute("aria-busy") !== "true");

async function give(page: Page, selector: string, path: string): Promise<void> {
  await ((await page.waitForSelector(selector)) as ElementHandle<HTMLInputElement>).uploadFile(path);
}

/** With a pointer and a keyboard. */
export function withPointer(page: Page): Hands {
  let actions = 0;
  return {
    press: async (selector) => {
      actions += 1;
      await untilShown(page);
      await page.locator(selector).click();
    },
    type: async (selector, text) => {
      actions += 1;
      await untilShown(page);
      await page.locator(selector).click({ count: 3 });
      await page.keyboard.type(text);
    },
    choose: async (selector, value) => {
      actions += 1;
      await page.waitForSelector(selector);
      await page.select(selector, value);
    },
    bring: async (selector, path) => {
      actions += 1;
      await give(page, selector, path);
    },
    actions: () => actions,
  };
}

/** So many keys are pressed at most to reach a control. */
const MOST_KEYS = 400;

/** With nothing but the keyboard: Tab, Shift+Tab, Enter, Space, arrows, letters. */
export function byKeyboard(page: Page): Hands {
  let actions = 0;
  const key = async (...keys: Parameters<Page["keyboard"]["press"]>[0][]) => {
    actions += 1;
    for (const each of keys.slice(0, -1)) await page.keyboard.down(each);
    await page.keyboard.press(keys.at(-1)!);
    for (const each of keys.slice(0, -1).reverse()) await page.keyboard.up(each);
  };
  /** Goes from where the focus is to the control, as a person does: forwards or backwards. */
  const reach = async (selector: string) => {
    await untilShown(page);
    await page.waitForSelector(selector, { visible: true });
    for (let pressed = 0; pressed < MOST_KEYS; pressed += 1) {
      const way = await page.evaluate((wanted) => {
        const target = document.querySelector(wanted),
          at = document.activeElement;
        if (!target || target === at) return target ? "there" : "gone";
        return at && at.compareDocumentPosition(target) & Node.DOCUMENT_POSITION_PRECEDING ? "back" : "on";
      }, selector);
      if (way === "there") return;
      if (way === "gone") await page.waitForSelector(selector, { visible: true });
      else await (way === "back" ? key("Shift", "Tab") : key("Tab"));
    }
    throw new Error(`${selector} is not reached with ${MOST_KEYS} keys`);
  };
  return {
    press: async (selector) => {
      await reach(selector);
      const isBox = await page.$eval(selector, (each) => each.matches("input"));
      await key(isBox ? "Space" : "Enter");
    },
    type: async (selector, text) => {
      await reach(selector);
      await key("Control", "a");
      await page.keyboard.type(text);
      actions += 1;
    },
    choose: async (selector, value) => {
      await reach(selector);
      for (let pressed = 0; pressed < MOST_KEYS; pressed += 1) {
        const at = await page.$eval(
          selector,
          (each, wanted) => {
            const { options, selectedIndex } = each as HTMLSelectElement;
            return [...options].findIndex((option) => option.value === wanted) - selectedIndex;
          },
          value,
        );
        if (at === 0) return;
        await key(at > 0 ? "ArrowDown" : "ArrowUp");
      }
    },
    bring: async (selector, path) => {
      await reach(selector);
      actions += 1;
      await give(page, selector, path);
    },
    actions: () => actions,
  };
}
