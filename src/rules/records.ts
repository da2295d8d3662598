/** Controlled documents of a collection and their frozen issues, for the record rules. */
import type { Amendment, Change, Collection, Controlled, Platform } from "../schema/collection.ts";
import { documentsOf, type Issuable } from "../schema/documents.ts";

/** A controlled document with the platform that it belongs to. */
export interface PlatformRecord {
  readonly record: Issuable;
  readonly platform: Platform;
}

/** Procedures, configurations and options that are not withdrawn and not in one of the files to leave out. */
export function recordsOf(collection: Collection, leaveOut: ReadonlySet<string> = new Set()): PlatformRecord[] {
  return allRecordsOf(collection).filter(({ record }) => record.status !== "withdrawn" && !leaveOut.has(record.file));
}

/** All of them, withdrawn ones too. */
export function allRecordsOf({ platforms }: Collection): PlatformRecord[] {
  return platforms.flatMap((platform) => documentsOf(platform).map((record) => ({ record, platform })));
}

/** The change entry of a record's own revision; `undefined` if there is none. */
export function ownChange({ changes, revision }: Controlled): Change | undefined {
  return changes.findLast((change) => change.revision === revision);
}

/** Every temporary amendment with its platform, whenever it runs. */
export function amendmentsOf({
  platforms,
}: Collection): { readonly amendment: Amendment; readonly platform: Platform }[] {
  return platforms.flatMap((platform) => (platform.amendments ?? []).map((amendment) => ({ amendment, platform })));
}

/** Whether nothing more is asked of an amendment: its last day is past, or a finding says that it has no days. */
export function hasEnded({ from, until }: Amendment, today: string): boolean {
  return from === "" || until < today || until < from;
}
