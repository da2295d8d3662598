/** A platform as it is kept from one process to the next: its texts are unpacked when somebody first asks for them. */
import { deserialize, serialize } from "node:v8";
import type { Platform } from "../../schema/collection.ts";
import { factsOf, knowFacts, knowReading, type PlatformFacts } from "../../schema/platform-facts.ts";
import type { PlacedComponent, Shelf } from "../text/placed.ts";
import type { Packing } from "./read-again.ts";

/** A platform with its names, and the components that its texts place. */
export interface Loaded extends Shelf {
  readonly placed: readonly PlacedComponent[];
}

/** What is known at once, and the rest as bytes. */
interface Packed {
  readonly id: string;
  readonly fields: readonly string[];
  readonly facts: PlatformFacts;
  readonly placed: Loaded["placed"];
  /** Of `Pick<Loaded, "platform" | "names">`. */
  readonly rest: Uint8Array;
}

/** How a platform is packed; a folder that is no platform is kept as that. */
export const PLATFORM_PACKING: Packing<Loaded | undefined> = {
  pack: (loaded) => serialize(loaded && packOne(loaded)),
  unpack(bytes, key) {
    const packed = deserialize(bytes) as Packed | undefined,
      loaded = packed && unpackOne(packed);
    if (loaded) knowReading(loaded.platform, key);
    return loaded;
  },
  name: (loaded, key) => void (loaded && knowReading(loaded.platform, key)),
};

function packOne({ platform, names, placed }: Loaded): Packed {
  return {
    id: platform.id,
    fields: Object.keys(platform),
    facts: factsOf(platform),
    placed,
    rest: serialize({ platform, names }),
  };
}

function unpackOne({ id, fields, facts, placed, rest }: Packed): Loaded {
  let opened: Pick<Loaded, "platform" | "names"> | undefined;
  const open = () => (opened ??= deserialize(rest) as NonNullable<typeof opened>);
  const platform = {} as Platform;
  for (const field of fields)
    Object.defineProperty(platform, field, {
      enumerable: true,
      ...(field === "id" ? { value: id } : { get: () => open().platform[field as keyof Platform] }),
    });
  knowFacts(platform, facts);
  return {
    platform,
    placed,
    get names() {
      return open().names;
    },
  };
}
