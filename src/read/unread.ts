/** Files of a collection that nothing reads: whether they are left by an editor, and what to say of the others. */
import type { Findings, Remark } from "../findings/finding.ts";
import type { Files, Listing } from "./files.ts";

/** Locks, backups and half-written files of editors, and what file managers leave; hidden files too. */
const LEFT_BEHIND =
  /^\.|^~\$|~$|^#.*#$|\.(?:bak|tmp|temp|swp|swo|orig|rej|lock|part|crdownload)$|^(?:thumbs\.db|desktop\.ini)$/i;
/** A copy as file managers name it: `fit - Copy.mdx`, `Copy of fit.mdx`, `fit copy 2.mdx`, `fit (1).mdx`. */
const COPY = /^copy of |(?: - copy(?: \(\d+\))?| copy(?: \d+)?| \(\d+\))\.[a-z]+$/i;
/** Pictures, those that browsers show among them. */
const PICTURE = /\.(?:jpe?g|png|webp|heic|heif|avif|gif|tiff?|bmp|svg|raw|dng|cr2|nef|arw|psd)$/i;
/** Said of nothing: a note to whoever opens the folder, and what was set aside on purpose. */
const SET_ASIDE = /^_|^readme(?:\.\w+)?$/i;

/** Whether an editor or a file manager left a file behind: it is passed over in silence. */
export function isLeftBehind(name: string): boolean {
  return LEFT_BEHIND.test(name);
}

/** Whether a file is a copy that a file manager made: it is not read, and said to be unread. */
export function isCopy(name: string): boolean {
  return COPY.test(name);
}

/** What of a folder is read. */
interface Shelving {
  readonly reads: (name: string) => boolean;
  readonly folders: ReadonlySet<string>;
}

/**
 * Reports what stands in a folder (`""`: the collection itself) and is read by nothing: each file once, a sub-folder at
 * the first file in it.
 */
export async function reportUnread(
  folder: string,
  listing: Listing,
  { reads, folders }: Shelving,
  files: Files,
): Promise<void> {
  const path = (name: string) => (folder === "" ? name : `${folder}/${name}`);
  for (const name of listing.files)
    if (!SET_ASIDE.test(name) && (!reads(name) || isCopy(name)))
      say(path(name), remarkOn(name, folder, reads, listing.files), files.findings);
  for (const name of listing.folders) {
    if (SET_ASIDE.test(name) || folders.has(name)) continue;
    const first = await firstFile(path(name), files);
    if (first !== undefined)
      say(
        first,
        {
          message: `The folder \`${path(name)}\` is not read`,
          fix: folder === "" ? PLATFORM : `Move its files to where they belong, or ${ASIDE}`,
        },
        files.findings,
      );
  }
}

const ASIDE = "take it out of the collection; one that is kept here on purpose may begin with `_`";
const PLATFORM = `Give it a platform.yaml if it is a platform; else ${ASIDE}`;

function say(file: string, remark: Remark, findings: Findings): void {
  findings.add("text/not-read", "warning", { file, line: 1, column: 1 }, remark);
}

/** The first file of a folder, or of a folder in it, three deep. */
async function firstFile(folder: string, files: Files, depth = 3): Promise<string | undefined> {
  const { files: names, folders } = await files.list(folder);
  if (names[0] !== undefined) return `${folder}/${names[0]}`;
  for (const name of depth > 0 ? folders : []) {
    const found = await firstFile(`${folder}/${name}`, files, depth - 1);
    if (found !== undefined) return found;
  }
  return undefined;
}

function remarkOn(name: string, folder: string, reads: Shelving["reads"], beside: readonly string[]): Remark {
  const ending = /\.[^.]*$/.exec(name)?.[0] ?? "";
  if (isCopy(name))
    return {
      message: `\`${name}\` is not read: by its name it is a copy`,
      fix: "Remove it; one that is to be read needs a name and a `code` of its own",
    };
  if (PICTURE.test(name))
    return folder.endsWith("/photos")
      ? {
          message: `\`${name}\` is not read: browsers show no picture that ends in \`${ending}\``,
          fix: "Save it as `.jpg`, `.png` or `.webp`",
        }
      : {
          message: `\`${name}\` is not read: it is no photo of a platform here`,
          fix: `Put it into the folder photos of its platform, or ${ASIDE}`,
        };
  const meant = meantName(name, reads);
  if (meant === undefined)
    return {
      message:
        `\`${name}\` is not read: nothing here is read that ` + (ending ? `ends in \`${ending}\`` : "has no ending"),
      fix: `${ASIDE[0]!.toUpperCase()}${ASIDE.slice(1)}`,
    };
  const why =
    meant === name.toLowerCase()
      ? "its ending has capitals"
      : `expected a name that ends in \`${/\.[^.]*$/.exec(meant)![0]}\``;
  return {
    message: `\`${name}\` is not read: ${why}`,
    fix: beside.includes(meant)
      ? `There is a \`${meant}\` already: compare the two, and ${ASIDE}`
      : `Rename it to \`${meant}\`, or ${ASIDE}`,
    expected: [meant],
    actual: name,
  };
}

/** The name that would be read, if only the ending is another one. */
function meantName(name: string, reads: Shelving["reads"]): string | undefined {
  const base = name.replace(/\.[^.]*$/, "");
  return [
    name.replace(/\.[^.]*$/, (ending) => ending.toLowerCase()),
    name.toLowerCase(),
    base,
    ...(/\.(?:yml|yaml|json)$/i.test(name) ? [`${base}.yaml`] : []),
    ...(/\.(?:mdx?|markdown)$/i.test(name) ? [`${base}.mdx`] : []),
  ].find((candidate) => candidate !== name && reads(candidate));
}
