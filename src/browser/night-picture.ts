/** The twin of a picture for dark screens, in what a browser makes and where the button of the theme decides. */
import { nightOf } from "../drawing/night-of.ts";

const DEVICE = "screen and (prefers-color-scheme:dark)";

/** The picture with its twin for the night, if it has one; to be put in its place before it is shown. */
export function withNight(image: HTMLImageElement): HTMLElement {
  const night = nightOf(image.getAttribute("src") ?? "");
  if (night === undefined) return image;
  const picture = document.createElement("picture"),
    source = document.createElement("source");
  source.srcset = night;
  picture.append(source, image);
  takeTheme(picture);
  return picture;
}

/** Has the pictures in a part of the page follow the theme that was chosen here, else the device. */
export function takeTheme(part: ParentNode): void {
  const chosen = document.documentElement.dataset["theme"];
  for (const source of part.querySelectorAll<HTMLSourceElement>("picture source"))
    source.media = chosen === undefined ? DEVICE : chosen === "night" ? "screen" : "not all";
}
