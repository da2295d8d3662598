/** A picture chosen or dropped is shown as it was chosen, and sent with what was said of it. */
import { heard } from "../../words/heard.ts";
import { ask, finish, sendBased } from "./edits.ts";
import { deskAddress, say, send } from "./send.ts";

type Head = Readonly<Record<string, unknown>>;

/** Puts the forms that take in a picture to work, and keeps a dropped file from taking the screen's place. */
export function startTaking(): void {
  document.addEventListener("submit", (event) => {
    const form = event.target as HTMLFormElement;
    if (form.dataset["take"]) void take(form);
    if (form.dataset["takeIn"]) void takeDocument(form);
  });
  document.addEventListener("click", ({ target }) => {
    const button = target instanceof Element ? target.closest<HTMLButtonElement>("button[data-remove]") : null;
    if (button && confirm(button.dataset["ask"])) void remove(JSON.parse(button.dataset["remove"]!) as Head);
  });
  document.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement && target.type === "file") void showChosen(target);
  });
  for (const kind of ["dragover", "drop"] as const)
    document.addEventListener(kind, (event) => {
      if (!event.dataTransfer?.types.includes("Files")) return;
      event.preventDefault();
      const input =
        event.target instanceof Element
          ? event.target.closest(".drop")?.querySelector<HTMLInputElement>("input")
          : null;
      if (kind === "dragover") event.dataTransfer.dropEffect = input ? "copy" : "none";
      else if (input && event.dataTransfer.files.length > 0) {
        const one = new DataTransfer();
        one.items.add(event.dataTransfer.files[0]!);
        input.files = one.files;
        input.dispatchEvent(new Event("change", { bubbles: true }));
      }
    });
}

const SHOWN_WIDTH = 320;

/** Draws what was chosen, upright; what the browser can't draw is left to the desk to judge. */
async function showChosen(input: HTMLInputElement): Promise<void> {
  const canvas = input.form?.querySelector<HTMLCanvasElement>("canvas.chosen"),
    file = input.files?.[0];
  if (!canvas) return;
  // Its room is there before it is drawn: nothing moves from under a finger that has gone on.
  canvas.hidden = !file;
  if (!file) return;
  try {
    const picture = await createImageBitmap(file, { resizeWidth: SHOWN_WIDTH, resizeQuality: "medium" });
    canvas.width = picture.width;
    canvas.height = picture.height;
    canvas.getContext("2d")?.drawImage(picture, 0, 0);
    picture.close();
  } catch {
    canvas.hidden = true;
  }
}

async function take(form: HTMLFormElement, base?: string): Promise<void> {
  const { to, head } = JSON.parse(form.dataset["take"]!) as { readonly to: string; readonly head: Head };
  const { picture, ...said } = Object.fromEntries(new FormData(form));
  if (!(picture instanceof File)) return;
  const body = (basedOn: string | null) =>
    withBytes({ ...based(head, basedOn), ...said, fileName: picture.name.slice(0, 200) }, picture);
  const outcome = await sendBased(to, body, form, base);
  if ("changed" in outcome) {
    await ask(outcome, heard("deskScript").aPhoto({ alt: String(said["alt"]) }), async (hash) => {
      await take(form, hash);
      return true;
    });
    return;
  }
  if (!("saved" in outcome)) return;
  form.classList.remove("begun");
  form.reset();
  form.querySelector<HTMLCanvasElement>("canvas.chosen")!.hidden = true;
  form.closest<HTMLDetailsElement>("details.take")?.removeAttribute("open");
  if (outcome.address !== undefined) location.href = deskAddress(outcome.address);
  else say(heard("deskScript").savedPhoto);
}

/** A document or a table: chosen, dropped, or a table pasted as text. */
async function takeDocument(form: HTMLFormElement): Promise<void> {
  const { document: chosen, pasted, home } = Object.fromEntries(new FormData(form)),
    file = chosen instanceof File && chosen.size > 0 ? chosen : undefined;
  const head = { ...(JSON.parse(form.dataset["takeIn"]!) as Head), home, fileName: file?.name.slice(0, 200) ?? "" };
  const outcome = await finish(send("take-in", () => withBytes(head, file ?? new Blob([String(pasted).trim()]))));
  if ("saved" in outcome && outcome.address !== undefined) location.href = deskAddress(outcome.address);
}

/** What it is based on: the state of the screen's file on which its writer began. */
function based(head: Head, hash: string | null): Head {
  if (head["step"]) return { ...head, step: { ...(head["step"] as Head), basedOn: hash } };
  return head["basedOn"] ? { ...head, basedOn: { ...(head["basedOn"] as Head), sidecar: hash } } : head;
}

async function remove(head: Head): Promise<void> {
  const outcome = await finish(send("remove-photo", () => withBytes(head)));
  if ("saved" in outcome) location.href = deskAddress("");
}

/** A line of JSON, and the bytes behind it. */
const withBytes = (head: Head, bytes: Blob = new Blob()) => new Blob([JSON.stringify(head), "\n", bytes]);
