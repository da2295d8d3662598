/** *Something is not as it says* at each step of a procedure's page, and the file of what was written. */
import { keptOnDevice } from "./after-file.ts";
import { readAfter } from "./after-store.ts";
import { noteForm } from "./note-form.ts";

const place = document.getElementById("notes-kept");
if (place) start(place);

function start(place: HTMLElement): void {
  const { procedure = "", revision = "" } = place.dataset,
    { platform = "" } = document.documentElement.dataset;
  const { place: file, show } = keptOnDevice(true);
  const showKept = () => {
    place.hidden = readAfter().notes.length === 0;
    show();
  };
  place.append(file);
  for (const step of document.querySelectorAll<HTMLElement>(".steps .step[data-step]"))
    step
      .querySelector(".words-of")
      ?.append(
        noteForm({ platform, procedure, revision: Number(revision), step: Number(step.dataset["step"]) }, showKept),
      );
  showKept();
}
