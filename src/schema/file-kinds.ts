/** Every kind of file that authors write: where it stands, what it is for, and the shape of its fields. */
import type { z } from "zod";
import {
  amendmentHead,
  configurationHead,
  equipmentFile,
  foldersFile,
  incidentsFile,
  optionHead,
  photoFile,
  platformFile,
  procedureHead,
  readingHead,
  reviewFile,
  serviceFile,
} from "./files.ts";

/** One kind of file. */
interface FileKind {
  readonly id: string;
  readonly title: string;
  /** Its path in a collection, `PLATFORM` and `NAME` standing for ids. */
  readonly path: string;
  readonly says: string;
  /** Its fields, or its entries by id; of a document (`.mdx`) those of its head. */
  readonly shape: z.ZodObject | z.ZodRecord;
}

/** In the order in which a new collection is written. */
export const FILE_KINDS: readonly FileKind[] = [
  {
    id: "service",
    title: "The service",
    path: "service.yaml",
    says: "Who writes the procedures, for which patients, and how the crew is named. Every collection has one.",
    shape: serviceFile,
  },
  {
    id: "platform",
    title: "The platform",
    path: "PLATFORM/platform.yaml",
    says:
      "What is rebuilt: its places, what holds things in them, and what it may carry. " +
      "A folder with this file is a platform.",
    shape: platformFile,
  },
  {
    id: "equipment",
    title: "Equipment",
    path: "PLATFORM/equipment.yaml",
    says: "The items, each by its id: how many there are, what one weighs, where it is when nobody needs it.",
    shape: equipmentFile,
  },
  {
    id: "configuration",
    title: "A configuration",
    path: "PLATFORM/configurations/NAME.mdx",
    says:
      "A named arrangement of items for a band of patients. What stands under its head " +
      "are the lines of its card and its notes; the first photo there is its picture in lists, " +
      "on its card and in changeovers.",
    shape: configurationHead,
  },
  {
    id: "option",
    title: "An option",
    path: "PLATFORM/options/NAME.mdx",
    says:
      "A named alteration on top of a configuration. What stands under its head are " +
      "the lines that it adds to the card; the first photo there is its picture in lists.",
    shape: optionHead,
  },
  {
    id: "procedure",
    title: "A procedure",
    path: "PLATFORM/NAME.mdx",
    says:
      "Ordered steps that move items and turn fastenings. What stands under its head " +
      "is what it is for, then its steps.",
    shape: procedureHead,
  },
  {
    id: "photo",
    title: "A photo",
    path: "PLATFORM/photos/NAME.yaml",
    says:
      "What a picture shows. The picture stands beside it under the same name, and " +
      "ends in .jpg, .jpeg, .png or .webp. A line drawing may have another one for dark screens, of the same cut: " +
      "NAME.night-1a2b3c4d.webp, with the first eight digits of the SHA-256 of the picture, so that it is not shown " +
      "when another picture is put in its place.",
    shape: photoFile,
  },
  {
    id: "reading",
    title: "A background page",
    path: "PLATFORM/reading/NAME.mdx",
    says: "What is good to know and is no procedure: text, with warnings, notes, links and components.",
    shape: readingHead,
  },
  {
    id: "amendment",
    title: "A temporary amendment",
    path: "PLATFORM/amendments/NAME.mdx",
    says: "What holds for some days only: warnings, steps that take the place of others, items out of service.",
    shape: amendmentHead,
  },
  {
    id: "folders",
    title: "Folders",
    path: "folders.yaml",
    says: "The binders in aircraft, vehicles and bases, each by its id, and the copies of cards in them.",
    shape: foldersFile,
  },
  {
    id: "incidents",
    title: "Incidents",
    path: "incidents.yaml",
    says: "What went wrong once, each by its id. Some step says that it guards against it.",
    shape: incidentsFile,
  },
  {
    id: "review",
    title: "A review",
    path: "reviews/NAME.yaml",
    says: "What reviewers said of one revision of a document, step by step, and what its author answered.",
    shape: reviewFile,
  },
];
