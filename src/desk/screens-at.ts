/** The screens of the desk, by the address at which each is. */
import { documentsOf } from "../schema/documents.ts";
import type { Assets } from "../site/assets.ts";
import type { Html } from "./html.ts";
import { contentHash } from "./disk/keep-states.ts";
import type { CollectionReader, Moment } from "./reader.ts";
import { historyOf, textOfState } from "./disk/save.ts";
import { fileInAddress, fileScreen } from "./screens/file.ts";
import { historyScreen } from "./screens/history.ts";
import { photoScreen } from "./screens/photo.ts";
import { procedureScreen } from "./screens/procedure.ts";
import { reviewScreen } from "./screens/review.ts";
import { takenInScreen } from "./screens/taken-in.ts";
import { textScreen } from "./screens/text.ts";

/** The text of a file as the reading has it. */
const textIn = async (reader: CollectionReader, moment: Moment, file: string): Promise<string | undefined> =>
  (await reader.bytesIn(moment, file))?.toString("utf8");

/** What a screen is made of, beside the rest of its address. */
interface Asked {
  readonly reader: CollectionReader;
  readonly moment: Moment;
  readonly assets: Assets;
}

type Screen = (asked: Asked, rest: readonly string[]) => Promise<Html | undefined>;

/** All of them beside its start, by the first part of their address; nothing for what the collection does not have. */
export const SCREENS: Readonly<Record<string, Screen>> = {
  "taken-in": ({ reader, moment, assets }, [number]) => {
    const taken = reader.takenIn[Number(number) - 1];
    return Promise.resolve(taken && takenInScreen({ moment, assets, taken, trouble: reader.trouble }));
  },
  procedures: async ({ reader, moment, assets }, [platformId, id]) => {
    const platform = moment.files.platforms.find((each) => each.id === platformId),
      procedure = platform?.procedures.find((each) => each.id === id),
      text = procedure && (await textIn(reader, moment, procedure.file));
    if (!platform || !procedure || text === undefined) return undefined;
    const { trouble } = reader;
    return procedureScreen({ moment, platform, procedure, text, hash: contentHash(text), assets, trouble });
  },
  form: async ({ reader, moment, assets }, rest) => {
    const { file, entry } = fileInAddress(rest),
      text = await textIn(reader, moment, file),
      hash = text === undefined ? "" : contentHash(text);
    // Folders and incidents need not be there to be begun.
    if (text === undefined && !["folders.yaml", "incidents.yaml"].includes(file)) return undefined;
    return fileScreen({ moment, assets, file, text, hash, entry, trouble: reader.trouble });
  },
  review: async ({ reader, moment, assets }, [platformId, id]) => {
    const platform = moment.files.platforms.find((each) => each.id === platformId),
      document = platform && documentsOf(platform).find((each) => each.id === id),
      text = document && (await textIn(reader, moment, document.file));
    if (!platform || !document || text === undefined) return undefined;
    return reviewScreen({ moment, platform, document, hash: contentHash(text), assets, trouble: reader.trouble });
  },
  photos: async ({ reader, moment, assets }, [platformId, id]) => {
    const found = photoAt(moment, platformId, id),
      image = found?.photo.file && (await reader.bytesIn(moment, found.photo.file));
    if (!found || !image) return undefined;
    const text = found.photo.sidecar === undefined ? undefined : await textIn(reader, moment, found.photo.sidecar);
    return photoScreen({ ...found, moment, text, image: contentHash(image), assets, trouble: reader.trouble });
  },
  history: async ({ reader, moment, assets }, rest) => {
    const file = rest.join("/"),
      text = await textIn(reader, moment, file);
    if (text === undefined) return undefined;
    const states = historyOf(reader.folder, file).map(({ at, hash }) => ({
      at,
      hash,
      text: hash === null ? null : textOfState(reader.folder, hash),
    }));
    return historyScreen(moment, assets, file, states, contentHash(text));
  },
  text: async ({ reader, moment, assets }, rest) => {
    const file = rest.join("/"),
      text = await textIn(reader, moment, file);
    return text === undefined ? undefined : textScreen(moment, assets, file, text, contentHash(text));
  },
};

/** A photo of the collection with its platform. */
export function photoAt({ files }: Moment, platformId: string | undefined, id: string | undefined) {
  const platform = files.platforms.find((each) => each.id === platformId),
    photo = platform?.photos.find((each) => each.id === id);
  return platform && photo && { platform, photo };
}
