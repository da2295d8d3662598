/** The small pictures that issues keep of the photos that they show, so that a later comparison can show them. */
import type { Collection, Issued } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";
import type { PhotoContent } from "./content.ts";
import { canonicalJson, contentOfIssue } from "./freeze.ts";

/** A kept picture as an issue names it: the part of the photo that its crop shows, upright. */
export interface Picture {
  /** SHA-256 of its file, which is its name. */
  readonly sha256: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

/** What an issue keeps: photo id -> picture; empty for one of a time before pictures were kept. */
export function picturesOf({ head }: Issued): ReadonlyMap<string, Picture> {
  const kept = head?.["pictures"];
  return new Map(Object.entries((kept ?? {}) as Readonly<Record<string, Picture>>));
}

/** Where a picture lies, relative to `issued/`. */
export function pathOfPicture(platform: string, { sha256 }: Pick<Picture, "sha256">): string {
  return `${platform}/photos/${sha256}.jpg`;
}

/** The photos that a content shows, each once, whose files' hashes it has: only of those is known what they were. */
export function photosIn(content: unknown): PhotoContent[] {
  const found = new Map<string, PhotoContent>();
  const look = (value: unknown): void => {
    if (Array.isArray(value)) return value.forEach(look);
    if (value === null || typeof value !== "object") return;
    const { id, image } = value as PhotoContent;
    if (typeof id === "string" && image?.sha256) found.set(id, value as PhotoContent);
    else Object.values(value).forEach(look);
  };
  look(content);
  return [...found.values()];
}

/**
 * The picture that was kept of a photo as an issue has it, with its file in the collection: of the same file and the
 * same part of it, whichever issue kept it. `undefined` if none was kept, or its file is gone or was altered.
 */
export function pictureOf(
  collection: Collection,
  platform: string,
  photo: PhotoContent,
): (Picture & { readonly file: string }) | undefined {
  return photo.image?.sha256 ? keptIn(collection).get(keyOf(platform, photo)) : undefined;
}

type Kept = ReadonlyMap<string, Picture & { readonly file: string }>;

const keptIn = remember(({ issued, pictures = [] }: Collection): Kept => {
  const whole = new Map(
    pictures
      .filter(({ file, sha256 }) => file.endsWith(`/${sha256}.jpg`))
      .map((picture) => [`${picture.platform} ${picture.sha256}`, picture.file]),
  );
  if (whole.size === 0) return new Map();
  return new Map(
    issued.flatMap((issue) => {
      const own = picturesOf(issue),
        content = own.size > 0 && contentOfIssue(issue);
      return (content ? photosIn(content) : []).flatMap((photo) => {
        const picture = own.get(photo.id),
          file = picture && whole.get(`${issue.platform} ${picture.sha256}`);
        return picture && file ? [[keyOf(issue.platform, photo), { ...picture, file }] as const] : [];
      });
    }),
  );
});

/** The file of a photo and the part of it that is shown. */
function keyOf(platform: string, { image, crop }: PhotoContent): string {
  return canonicalJson([platform, image?.sha256 ?? null, crop ?? null]);
}
