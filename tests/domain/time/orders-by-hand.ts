/**
 * Ten changeovers of the demo as a crew would do them, written down from the procedures and the arrangements alone,
 * before the planner was asked (the commit that brought this file held nothing else). Common practice, no source.
 *
 * The crew's own rule, in the order in which it thinks: nothing is touched before patient and band are confirmed.
 * What can harm while it stands about goes first (gas under pressure, then what runs on gas and power). Then away with
 * what is on top, and what it stood on after it. Then up from the platform: bay, deck, what lies on it; then what is
 * added; what needs gas and power last.
 */
export interface ByHand {
  readonly from: string;
  readonly to: string;
  readonly weight: string;
  readonly age?: string;
  readonly order: readonly string[];
  /** Why in this order, where another would also come to the same end. */
  readonly why: string;
}

export const BY_HAND: readonly ByHand[] = [
  {
    from: "child-cradle+second-ventilator",
    to: "newborn-capsule+roll-supports",
    weight: "2 kg",
    order: [
      "confirm-band",
      "remove-second-ventilator",
      "remove-child-cradle",
      "lock-capsule-base",
      "seat-capsule",
      "dress-capsule",
      "place-roll-supports",
    ],
    why:
      "The ventilator hangs over the foot end and runs on gas: it goes before two people lift there. The " +
      "rolls lie on the dressed pad.",
  },
  {
    from: "newborn-capsule",
    to: "deck-harness",
    weight: "60 kg",
    order: ["confirm-band", "undress-capsule", "unseat-capsule", "lift-off-capsule-base", "fit-deck-harness"],
    why: "Each thing stands on the next: there is no other order.",
  },
  {
    from: "newborn-capsule+roll-supports",
    to: "child-cradle",
    weight: "12 kg",
    order: [
      "confirm-band",
      "stow-roll-supports",
      "undress-capsule",
      "unseat-capsule",
      "lift-off-capsule-base",
      "fit-child-cradle",
    ],
    why: "The rolls lie on the mattress, the mattress in the capsule, the capsule on its base.",
  },
  {
    from: "newborn-capsule+cooling-unit",
    to: "child-cradle",
    weight: "8 kg",
    order: [
      "confirm-band",
      "remove-cooling-unit",
      "unseat-capsule",
      "lift-off-capsule-base",
      "response-bag-in",
      "fit-child-cradle",
    ],
    why:
      "All that goes is gone before anything comes. The bag belongs under the deck: it comes before what " +
      "stands on the deck.",
  },
  {
    from: "deck-harness+second-ventilator",
    to: "newborn-capsule+second-ventilator",
    weight: "3 kg",
    order: ["confirm-band", "remove-deck-harness", "lock-capsule-base", "seat-capsule", "dress-capsule"],
    why: "The ventilator stays where it hangs: nobody takes it down to hang it up again.",
  },
  {
    from: "deck-harness+gas-shelf+pump-rack",
    to: "child-cradle+gas-shelf",
    weight: "20 kg",
    order: ["confirm-band", "remove-pump-rack", "remove-deck-harness", "fit-child-cradle"],
    why:
      "The rack stands upright at the head end, in the way of whoever lifts there, and runs on power: it " +
      "goes first.",
  },
  {
    from: "child-cradle+gas-shelf+second-ventilator",
    to: "newborn-capsule+cooling-unit",
    weight: "4 kg",
    age: "5 days",
    order: [
      "confirm-band",
      "remove-gas-shelf",
      "remove-second-ventilator",
      "remove-child-cradle",
      "lock-capsule-base",
      "seat-capsule",
      "fit-cooling-unit",
    ],
    why:
      "Cylinders under pressure go first, then the ventilator, then the lift. The slot stays without heat: " +
      "nobody dresses the capsule.",
  },
  {
    from: "newborn-capsule",
    to: "newborn-capsule+cooling-unit+second-ventilator",
    weight: "3 kg",
    age: "2 days",
    order: ["confirm-band", "undress-capsule", "response-bag-out", "fit-cooling-unit", "fit-second-ventilator"],
    why: "Heat out and bag out, then cooling in. The ventilator hangs on gas and power and comes last.",
  },
  {
    from: "newborn-capsule+gas-shelf",
    to: "newborn-capsule+cooling-unit",
    weight: "3.5 kg",
    age: "1 day",
    order: ["confirm-band", "remove-gas-shelf", "undress-capsule", "fit-cooling-unit"],
    why: "Gas goes first, then the heat; cooling comes when both are gone.",
  },
  {
    from: "child-cradle+pump-rack",
    to: "deck-harness+gas-shelf+second-ventilator",
    weight: "50 kg",
    order: [
      "confirm-band",
      "remove-pump-rack",
      "remove-child-cradle",
      "response-bag-out",
      "fit-deck-harness",
      "fit-gas-shelf",
      "fit-second-ventilator",
    ],
    why:
      "Rack, cradle and bag go before anything comes. Deck first, then what is added: shelf with its gas, " +
      "ventilator with gas and power.",
  },
];
