/** What the desk calls a file: by what it is, as whoever writes it knows it; its path stands behind a press. */
import { documentsOf } from "../../schema/documents.ts";
import type { Collection } from "../../schema/collection.ts";
import { wordsFor } from "../../words/words.ts";
import { kindOfFile } from "./guide-of.ts";

/** A file of the collection in words, such as the title of its document; its path where it is none of a collection. */
export function nameOfFile(files: Collection, file: string): string {
  const say = wordsFor(files.service).deskStart,
    platform = files.platforms.find(({ id }) => file.startsWith(`${id}/`)),
    of = { name: platform?.name ?? "" };
  switch (kindOfFile(file)?.id) {
    case "service":
      return say.service;
    case "folders":
      return say.folders;
    case "incidents":
      return say.incidents;
    case "platform":
      return say.platformFile(of);
    case "equipment":
      return say.equipmentFile(of);
    case "review":
      return reviewName(files, file) ?? say.review;
    case undefined:
      return file;
    default: {
      const { amendments = [], readings = [], photos = [] } = platform ?? {};
      const titled = [...(platform ? documentsOf(platform) : []), ...amendments, ...readings].find(
          (each) => each.file === file,
        ),
        photo = photos.find(({ sidecar, file: picture }) => sidecar === file || picture === file);
      return titled?.title || (photo ? say.photoFile({ photo: photo.id }) : file);
    }
  }
}

/** A review by what is reviewed; nothing where that is not there. */
function reviewName(files: Collection, file: string): string | undefined {
  const review = files.reviews?.find((each) => each.file === file),
    platform = files.platforms.find(({ id }) => id === review?.platform),
    title = platform && documentsOf(platform).find(({ id }) => id === review!.document)?.title;
  return title && wordsFor(files.service).deskStart.reviewOf({ title, revision: review!.revision });
}
