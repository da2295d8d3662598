/** The components that authors may place in a text: their attributes, and what the value of each one names. */

/** What the value of an attribute is: the name of something, or a patient's weight. */
type PlacedValue = "platform" | "item" | "arrangement" | "photo" | "weight";

/** An attribute of a component that authors place: what its value names, and whether it must be there. */
export interface PlacedAttribute {
  readonly value: PlacedValue;
  readonly needed: boolean;
}

/**
 * Component -> attribute -> what it takes. A component of `components/author/` that is not listed here takes anything.
 */
export const PLACED_COMPONENTS: ReadonlyMap<string, ReadonlyMap<string, PlacedAttribute>> = new Map([
  ["WeightBands", attributes()],
  ["ItemCount", attributes(["item", "item"])],
  ["ArrangementMass", attributes(["configuration", "arrangement"], ["patient", "weight", false])],
  ["Photo", attributes(["id", "photo"])],
]);

function attributes(
  ...list: readonly (readonly [name: string, value: PlacedValue, needed?: boolean])[]
): ReadonlyMap<string, PlacedAttribute> {
  return new Map<string, PlacedAttribute>([
    ...list.map(([name, value, needed = true]) => [name, { value, needed }] as const),
    ["platform", { value: "platform", needed: false }],
  ]);
}
