/** What can't be judged because a file that it rests on could not be read whole: whoever obeyed it would be misled. */

type Damaged = ReadonlySet<string>;

/** Whether the card in force is not known: what it is made of could not be read whole. */
export function isInDoubt(platform: string, damaged: Damaged): boolean {
  return (
    damaged.has("service.yaml") ||
    [...damaged].some((file) => file.startsWith(`${platform}/`) && !/^[^/]+\/(?:photos|reading)\//.test(file))
  );
}

/** Whether it is not known what there is, what it is called, and what is fitted where in each arrangement. */
export function isFittedInDoubt(platform: string, damaged: Damaged): boolean {
  const base = ["service.yaml", `${platform}/platform.yaml`, `${platform}/equipment.yaml`],
    folders = [`${platform}/configurations/`, `${platform}/options/`];
  return [...damaged].some((file) => base.includes(file) || folders.some((folder) => file.startsWith(folder)));
}
