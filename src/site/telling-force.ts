/**
 * What a site says of texts that are not in force (files, proposals, findings), made to tell when a page asks for it
 * (`domain/words/reads.ts`): so that a page which asks for none of it is left as it is while such a text is edited.
 */
import { documentsOf } from "../schema/documents.ts";
import type { Issued } from "../schema/collection.ts";
import type { Force, Proposal } from "../domain/force/force.ts";
import { kindOf } from "../domain/records/freeze.ts";
import { nameOf, withdrawalOf } from "../domain/records/issues.ts";
import { tellRead, withoutTelling } from "../domain/words/reads.ts";
import { remember } from "../domain/words/remember.ts";

/** Under which name each is told; names of documents have a slash (`domain/parts/watched-words.ts`). */
export const TOLD = {
  files: "files",
  proposed: "proposed",
  proposals: "proposals",
  withdrawals: "withdrawals",
  findings: "findings",
} as const;

const proposalsTold = (document: string) => TOLD.proposals + document;

/** The same, which tells when files and proposals are asked for; what is in force tells nothing. */
export function tellingForce(force: Force): Force {
  const { files, proposed, proposals } = force;
  return {
    ...force,
    get files() {
      tellRead(TOLD.files);
      return files;
    },
    get proposed() {
      tellRead(TOLD.proposed);
      return proposed;
    },
    get proposals() {
      tellRead(TOLD.proposals);
      return proposals;
    },
  };
}

/** The proposals of one document, in their order; tells of no others. */
export function proposalsOn(
  force: Force,
  document: { readonly platform: string; readonly id: string },
  kind: Issued["kind"],
): readonly Proposal[] {
  const name = nameOf(document, kind);
  tellRead(proposalsTold(name));
  return withoutTelling(() => proposalsByDocument(force).get(name) ?? []);
}

const proposalsByDocument = remember(({ proposals }: Force) =>
  Map.groupBy(proposals, ({ platform, id, kind }) => nameOf({ platform, id }, kind)),
);

/** The days on which documents are withdrawn, `YYYY-MM-DD`, by `nameOf`; tells of nothing else that files say. */
export function withdrawalDays(force: Force): ReadonlyMap<string, string> {
  tellRead(TOLD.withdrawals);
  return withoutTelling(() => daysOfWithdrawal(force));
}

const daysOfWithdrawal = remember(
  ({ files }: Force) =>
    new Map(
      files.platforms.flatMap(documentsOf).flatMap((file) => {
        const { from } = withdrawalOf(files, file) ?? {};
        return from === undefined ? [] : [[nameOf(file, kindOf(file)), from] as const];
      }),
    ),
);

const documentNames = ({ files, shown }: Force) =>
  [files, shown].flatMap(({ platforms }) =>
    platforms.flatMap((platform) => documentsOf(platform).map((each) => nameOf(each, kindOf(each)))),
  );

/** What all that tells here says, by the names under which it tells: the forces of a site's day and of later ones. */
export function saidByName(forces: readonly Force[]): ReadonlyMap<string, unknown> {
  return withoutTelling(() => {
    const names = new Set(forces.flatMap((force) => [...documentNames(force), ...proposalsByDocument(force).keys()]));
    const proposalsOf = (name: string) =>
      // Who is handed a proposal may have a copy of it, which does not tell.
      forces.map((force) =>
        proposalsByDocument(force)
          .get(name)
          ?.map((each) => ({ ...each, record: { ...each.record } })),
      );
    return new Map<string, unknown>([
      [TOLD.files, forces.map(({ files }) => files.platforms)],
      [TOLD.proposed, forces.map(({ proposed }) => proposed.platforms)],
      [TOLD.proposals, forces.map(({ proposals }) => proposals)],
      [TOLD.withdrawals, forces.map((force) => daysOfWithdrawal(force))],
      ...[...names].map((name) => [proposalsTold(name), proposalsOf(name)] as const),
    ]);
  });
}
