/** A file of the collection as a form, or one entry of it, beside the page that shows it. */
import { documentIn, documentsOf } from "../../schema/documents.ts";
import { z } from "zod";
import { kindOf } from "../../domain/records/freeze.ts";
import { insideOf, sortOf } from "../../schema/described.ts";
import type { Platform } from "../../schema/collection.ts";
import { Findings } from "../../findings/finding.ts";
import { placeOfHead } from "../../read/markdown.ts";
import type { Raw } from "../../read/raw.ts";
import { Source } from "../../read/source.ts";
import { readYaml } from "../../read/yaml.ts";
import type { Assets } from "../../site/assets.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { bodyForm } from "./forms/body-form.ts";
import { amendmentEnd } from "./forms/amendment-form.ts";
import { act } from "./forms/controls.ts";
import type { FormContext } from "./forms/described-field.ts";
import { entriesForm, fieldsForm, nameIn } from "./forms/file-form.ts";
import { findingsList, tallyOf } from "./findings.ts";
import { foundIn } from "./found-in.ts";
import { againButtons, frame } from "./frame.ts";
import { formKindOf, guideOf } from "./guide-of.ts";
import { platformsOf } from "./forms/offered.ts";
import { pagesOf } from "./page-of.ts";
import { renamedSort, renameForm } from "./forms/rename-form.ts";

/** What the screen shows. */
interface ShownFile {
  readonly moment: Moment;
  readonly assets: Assets;
  readonly file: string;
  /** What the file says; nothing where there is none yet. */
  readonly text: string | undefined;
  /** What a change is based on; empty where there is no file yet. */
  readonly hash: string;
  /** From the file to the entry that is shown: names, one after the other; none for the file itself. */
  readonly entry: readonly string[];
  readonly trouble: string | undefined;
}

/** The parts of an address below `form/`: the file, and the way to an entry of it. */
export function fileInAddress(rest: readonly string[]): { readonly file: string; readonly entry: readonly string[] } {
  const end = rest.findIndex((part) => /\.(?:yaml|mdx)$/.test(part)) + 1,
    entry = rest.slice(end).filter((part) => part !== "");
  return { file: rest.slice(0, end).join("/"), entry: entry.map((part) => decodeURIComponent(part)) };
}

/** The screen; nothing for a file that no form is for, and for an entry that is not there. */
export function fileScreen(shown: ShownFile): Html | undefined {
  const { moment, file, text = "", hash, entry, assets, trouble } = shown;
  const kind = formKindOf(file);
  if (!kind) return undefined;
  const findings = moment.findings().filter((finding) => finding.file === file);
  const source = new Source(file, text),
    { raw, broken, bodyLine } = readFields(source);
  const spot = spotAt(kind.shape, raw, entry);
  if (!spot) return undefined;
  const up = "../".repeat(file.split("/").length + entry.length),
    inHead = findings.filter(({ line }) => bodyLine === undefined || line < bodyLine);
  const context: FormContext = {
    around: { files: moment.files, platforms: platformsOf(moment.files, file) },
    found: foundIn(source, raw, inHead),
    address: `form/${file}`,
    up,
  };
  const title = entry.length > 0 ? (nameIn(spot.raw) ?? entry.at(-1)!) : titleOf(shown, kind.title),
    document = documentIn(moment.files, file),
    say = heard("deskFrame");
  const own = entry.length > 0 ? context.found.within(entry) : findings;
  return frame(
    {
      title: say.ofDesk({ title }),
      assets,
      depth: file.split("/").length + entry.length,
      trouble,
      moment,
    },
    html`<div class="bench" data-file="${file}" data-hash="${hash}">
      <div class="write">
        <div class="desk-title">
          <h1>${title}</h1>
          <p class="tally">${entry.length > 0 && `${entry.at(-1)!} · `}${tallyOf(own, moment.findings(), up)}</p>
          <p class="acts">
            ${againButtons()} ${entry.length > 0 && html`<a href="${up}form/${file}">${say.toWhole}</a>`}
            ${document && html`<a href="${up}review/${document.platform}/${document.id}/">${say.review}</a>`}
            ${
              text !== "" &&
              html`<a href="${up}text/${file}">${say.asText}</a> <a href="${up}history/${file}">${say.savedToday}</a>`
            }
            <a href="${up}site/${guideOf(file)}" target="live">${say.howWritten}</a>
            <a class="to-page" href="#page">${say.toPage}</a>
          </p>
        </div>
        ${
          broken
            ? html`<p class="trouble">${heard("deskForms").broken}</p>
                ${findingsList(findings)}`
            : html`${findingsList(context.found.at(entry))} ${form(context, spot, entry)}
              ${renaming(shown, kind, entry)}
              ${
                entry.length === 0 &&
                bodyLine !== undefined &&
                bodyForm({ moment, file, text, findings, bodyLine, kind: kind.id })
              }
              ${kind.id === "amendment" && amendmentEnd(moment, file, hash)}`
        }
      </div>
      <div class="page" id="page">
        <iframe
          name="live"
          src="${up}site/${pageOf(shown, kind.id)}"
          title="${heard("deskSteps").pageOf({ title })}"
        ></iframe>
      </div>
    </div>`,
  );
}

/** The form for another id of an entry that others name, or of a document; nothing for what nobody names. */
function renaming(
  { moment, file }: ShownFile,
  kind: { readonly id: string; readonly shape: z.ZodType },
  entry: readonly string[],
) {
  const { files } = moment,
    platform = ownPlatform(moment, file)?.id,
    document = entry.length === 0 ? documentIn(moment.files, file) : undefined;
  if (document)
    return renameForm({
      files,
      what: kindOf(document),
      platform,
      id: document.id,
      screen: `form/${file.slice(0, file.lastIndexOf("/") + 1)}{}.mdx`,
    });
  if (kind.id === "platform" && entry.length === 0 && platform !== undefined)
    return renameForm({ files, what: "platform", platform, id: platform, screen: "form/{}/platform.yaml" });
  const what = renamedSort(declaredAt(kind.shape, entry)),
    screen = `form/${[file, ...entry.slice(0, -1).map(encodeURIComponent), "{}"].join("/")}`;
  return what && renameForm({ files, what, platform, id: entry.at(-1)!, screen });
}

/** Of what the last name on the way to an entry is the declared name. */
function declaredAt(type: z.ZodType, [name, ...rest]: readonly string[]): string | undefined {
  if (name === undefined) return undefined;
  const inside = insideOf(type);
  if (inside instanceof z.ZodRecord)
    return rest.length === 0
      ? sortOf(inside.keyType as unknown as z.ZodType)?.declares
      : declaredAt(inside.valueType as z.ZodType, rest);
  const field = inside instanceof z.ZodObject ? (inside.shape as Record<string, z.ZodType>)[name] : undefined;
  return field && declaredAt(field, rest);
}

interface Spot {
  readonly type: z.ZodType;
  readonly raw: Raw | undefined;
}

function form(context: FormContext, { type, raw }: Spot, path: readonly string[]): Html {
  const inside = insideOf(type);
  return inside instanceof z.ZodRecord
    ? html`<div class="fields">
        <div class="wide">
          ${entriesForm(context, { type: inside, raw, path }, { kind: "remove-field", path }, false)}
        </div>
      </div>`
    : html`<div class="fields">${fieldsForm(context, { type, raw, path })}</div>
        ${
          path.length > 0 &&
          html`<p class="acts">
            ${act(heard("deskForms").removeIt, [{ kind: "remove-field", path }], {
              ask: heard("deskForms").askRemove({ called: path.at(-1)! }),
              then: context.address,
            })}
          </p>`
        }`;
}

/** The fields of a YAML file or of a head, and of a document the line at which its body begins. */
function readFields(source: Source): { raw: Raw | undefined; broken: boolean; bodyLine: number | undefined } {
  const { text } = source,
    place = placeOfHead(text);
  if (!source.file.endsWith(".mdx")) return { ...readYaml(source, text, 0, new Findings()), bodyLine: undefined };
  if (place?.end === undefined || place.bodyOffset === undefined)
    return { raw: undefined, broken: true, bodyLine: undefined };
  const reading = readYaml(source, text.slice(place.start, place.end), place.start, new Findings());
  return { ...reading, bodyLine: source.where(place.bodyOffset).line };
}

/** The shape and the value of an entry; nothing where the shape has no such thing, or the file no such entry. */
function spotAt(type: z.ZodType, raw: Raw | undefined, [name, ...rest]: readonly string[]): Spot | undefined {
  if (name === undefined) return { type, raw };
  const inside = insideOf(type),
    own = raw?.kind === "map" ? raw.entries.find(({ key }) => key === name)?.value : undefined;
  if (inside instanceof z.ZodRecord) return own && spotAt(inside.valueType as z.ZodType, own, rest);
  const field = inside instanceof z.ZodObject ? (inside.shape as Record<string, z.ZodType>)[name] : undefined;
  return field && spotAt(field, own, rest);
}

function ownPlatform({ files }: Moment, file: string): Platform | undefined {
  return files.platforms.find(({ id }) => file.startsWith(`${id}/`));
}

function titleOf({ moment, file }: ShownFile, kind: string): string {
  const platform = ownPlatform(moment, file),
    titled = platform && [...documentsOf(platform), ...(platform.amendments ?? []), ...platform.readings];
  return titled?.find((each) => each.file === file)?.title || (platform ? `${kind}: ${platform.name}` : kind);
}

/** Where the site shows what the file says. */
function pageOf({ moment, file, entry }: ShownFile, kind: string): string {
  const platform = ownPlatform(moment, file),
    document = documentIn(moment.files, file),
    id = file.replace(/^.*\/|\.\w+$/g, "");
  if (platform && document) return pagesOf(moment, platform, document).page;
  if (
    kind === "review" ||
    (platform === undefined && kind !== "service" && entry.length === 0 && !ownPage(moment, kind))
  )
    return guideOf(file);
  const below = (folder: string) => `${platform?.id ?? ""}/${folder}/`;
  const things = ["places", "fastenings"].find((each) => entry.includes(each)),
    thing = things && entry.at(-1) !== things ? `${below(things)}${entry.at(-1)!}/` : undefined;
  const pages: Readonly<Record<string, string>> = {
    // Where there is one platform its page is the site's first.
    platform: thing ?? (moment.files.service.hasSeveral ? `${platform?.id ?? ""}/` : ""),
    equipment: thing ?? (entry[0] === undefined ? below("items") : `${below("items")}${entry[0]}/`),
    amendment: `${below("amendments")}${id}/`,
    reading: `${below("reading")}${id}/`,
    folders: `folders/${entry[0] === undefined ? "" : `${entry[0]}/`}`,
    incidents: "incidents/",
  };
  return pages[kind] ?? "";
}

/** Whether the site has the page: it has none of folders or incidents where there are none. */
function ownPage({ files }: Moment, kind: string): boolean {
  return (kind === "folders" && files.folders.length > 0) || (kind === "incidents" && files.incidents.length > 0);
}
