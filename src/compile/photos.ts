/** Photos and their sidecars. Images are read as far as their header. */
import { type Finding, Findings } from "../findings/finding.ts";
import type { Photo, Where } from "../schema/collection.ts";
import { photoFile } from "../schema/files.ts";
import { readFields } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import { readYaml } from "../read/yaml.ts";
import type { Context } from "./document.ts";
import { resolveName } from "./names.ts";

/** An image file of the collection. */
interface ImageFile {
  readonly file: string;
  readonly night?: string;
  readonly image?: Photo["image"];
}

/**
 * `pin.night-1a2b3c4d.webp`: what is shown in the place of `pin.jpg` on dark screens, while the SHA-256 of `pin.jpg`
 * begins so: of a picture that was put in its place it might show the opposite.
 */
export const NIGHT = /^(.+)\.night-([0-9a-f]{8})\.(?:jpe?g|png|webp)$/i;

const WHOLE = { x: 0, y: 0, width: 1, height: 1 };

/** A mark or crop told in pixels, with advice in fractions of the image where its size is known. */
function inFractions(finding: Finding, sidecar: Source, image: Photo["image"]): Finding {
  const [, pixels] = /^(\d{1,6}(?:\.\d+)?)\s*(?:px|pixels?)$/i.exec(finding.actual ?? "") ?? [];
  if (!image || pixels === undefined) return finding;
  const before = sidecar.line(finding.line).slice(0, finding.column - 1);
  const [, key, list = ""] = /\b(x|y|width|height|arrow):\s*(\[[^\]]*)?$/.exec(before) ?? [];
  if (!key) return finding;
  // The numbers of an arrow are x and y in turn.
  const isAcross = key === "arrow" ? (list.match(/,/g) ?? []).length % 2 === 0 : key === "x" || key === "width";
  const whole = isAcross ? image.width : image.height;
  const fraction = Number((Number(pixels) / whole).toFixed(4));
  return fraction > 1 ? finding : { ...finding, fix: `Write \`${fraction}\`: ${pixels} of ${whole} px` };
}

/** A photo of an image, a sidecar, or both. */
export function compilePhoto(
  id: string,
  { image, sidecar }: { readonly image?: ImageFile | undefined; readonly sidecar?: Source | undefined },
  { platform, names: { items }, findings }: Pick<Context, "platform" | "names" | "findings">,
): Photo {
  const where: Where = { file: sidecar?.file ?? image?.file ?? "", line: 1, column: 1 };
  const base = {
    id,
    platform,
    ...(image ? { file: image.file } : {}),
    ...(image?.night ? { night: image.night } : {}),
    ...(image?.image ? { image: image.image } : {}),
  };
  if (!sidecar) return { ...base, shows: [], marks: [], arrows: [], crop: WHOLE, where, at: {} };
  const { raw, broken } = readYaml(sidecar, sidecar.text, 0, findings),
    own = new Findings(),
    reader = { source: sidecar, findings: own, quiet: broken };
  const { fields, at } = readFields(photoFile, raw, reader, { what: "the photo's sidecar", where });
  for (const finding of own.list) findings.keep(inFractions(finding, sidecar, image?.image));
  const marks: Photo["marks"][number][] = [],
    arrows: Photo["arrows"][number][] = [];
  for (const {
    value: { fields: mark, at: its },
    where: place,
  } of fields.marks ?? []) {
    if (mark.arrow) {
      const [x1, y1, x2, y2] = mark.arrow.map((number) => number.value);
      if (mark.arrow.length === 4) arrows.push({ from: [x1!, y1!], to: [x2!, y2!], where: place });
      else if (!broken && Object.keys(its).filter((key) => /^arrow\.\d+$/.test(key)).length !== 4)
        findings.error("text/bad-value", its.arrow ?? place, {
          message: `An arrow has ${mark.arrow.length} numbers, expected four`,
          fix: "Write `arrow: [x1, y1, x2, y2]`, as fractions of the image",
        });
    }
    if (mark.arrow && mark.n === undefined && mark.x === undefined) continue;
    const missing = (["n", "x", "y", "label"] as const).filter(
      (key) => mark[key] === undefined && its[key] === undefined,
    );
    if (missing.length > 0 && !broken)
      findings.error("text/missing-field", place, {
        message:
          `${missing.map((key) => `\`${key}\``).join(", ")} of this mark ${missing.length === 1 ? "is" : "are"} ` +
          "missing",
        fix: "Write `{ n: 1, x: 0.31, y: 0.44, label: … }`, or `{ arrow: [x1, y1, x2, y2] }`",
      });
    if (mark.n === undefined || mark.x === undefined || mark.y === undefined) continue;
    const earlier = marks.find((other) => other.n === mark.n);
    if (earlier)
      findings.error("text/duplicate-id", its.n ?? place, {
        message: `Two marks have the number ${mark.n}`,
        fix: "Number each mark by itself",
        cause: earlier.where,
      });
    marks.push({ n: mark.n, x: mark.x, y: mark.y, label: mark.label ?? "", where: place });
  }
  const crop = fields.crop?.fields;
  const whole =
    crop?.x !== undefined && crop.y !== undefined && crop.width !== undefined && crop.height !== undefined
      ? { x: crop.x, y: crop.y, width: crop.width, height: crop.height }
      : WHOLE;
  const isInside =
    whole.x >= 0 &&
    whole.y >= 0 &&
    whole.width > 0 &&
    whole.height > 0 &&
    whole.x + whole.width <= 1 + 1e-9 &&
    whole.y + whole.height <= 1 + 1e-9;
  if (!isInside)
    findings.error("text/bad-value", at.crop ?? where, {
      message: "The crop reaches beyond the image",
      fix: "Write fractions from 0 to 1, with `x` + `width` and `y` + `height` at most 1",
    });
  return {
    ...base,
    sidecar: sidecar.file,
    ...(fields.alt !== undefined ? { alt: fields.alt } : {}),
    ...(fields.taken !== undefined ? { taken: fields.taken } : {}),
    shows: (fields.shows ?? []).map((item) => ({
      id: resolveName(items, item.value, item.where, findings),
      where: item.where,
    })),
    marks,
    arrows,
    crop: isInside ? whole : WHOLE,
    where,
    at,
  };
}
