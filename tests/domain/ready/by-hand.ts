/**
 * Readiness and restock of the demo, reckoned by hand without running the code (typed in when it was there already):
 * from `equipment.yaml`, `platform.yaml` and what the configurations fit; the restock of the cradle once more from the
 * acts in the texts of the procedures that lead there.
 * Invented data; the sums are ours.
 */

/** Walking order while the trolley waits with its newborn capsule: place, what stands there, what is looked at. */
export const WAITING: readonly (readonly [place: string, stands: string, looks: string])[] = [
  ["deck", "1 capsule-base", ""],
  ["capsule-seat", "1 newborn-capsule, 4 capsule-pin", "shift five belts flat, no cut; week service label in date"],
  ["warmer-slot", "1 warming-mattress", "shift lamp amber"],
  ["capsule-pouch", "2 roll-support", "shift two rolls, edge down"],
  ["head-rail", "2 infusion-pump", "shift charged to four bars"],
  ["suction-mount", "1 suction-unit", "day pulls with a thumb on the tube"],
  ["pin-tray", "", "shift four empty holes"],
  ["lower-bay", "1 response-bag", "shift seal whole; week first date on the list"],
  ["bag-pocket", "1 gas-spanner", ""],
  ["cylinder-bay", "2 oxygen-cylinder", "shift needle in the green field"],
  ["vent-bracket", "1 ventilator", "shift three green ticks; week service label in date"],
  ["monitor-arm", "1 monitor", "shift charged to four bars"],
  [
    "hearing-pouch",
    "2 newborn-ear-cup, 1 small-ear-defender, 1 large-ear-defender",
    "run two cups, one small, one large",
  ],
  [
    "store",
    "1 child-cradle, 1 cradle-yoke, 4 cradle-strap, 1 deck-mattress, 1 deck-harness, 1 second-hose, 1 gas-shelf, " +
      "1 pump-rack, 1 cooling-unit, 1 cooling-mat",
    "week four straps on one hook, yoke and harness on theirs; week no crack, no tear; " +
      "week no cut, window green when closed; week webbing without a cut; week webbing without a cut",
  ],
  [
    "charger",
    "1 second-ventilator, 1 dosing-unit, 2 syringe-pump",
    "shift every lamp blinks; day charging lamp blinks; day charging lamp blinks; day charging lamp blinks",
  ],
  [
    "gas-store",
    "2 spare-oxygen-cylinder, 2 inhaled-gas-cylinder",
    "day needle in the green field, tag “full” on its neck; week label in date",
  ],
  ["vehicle-locker", "1 spare-ventilator", "week battery lamp green"],
];

/** What stands mounted on the trolley whatever is built on its deck, after a run: from the equipment. */
const ALWAYS = [
  "2 infusion-pump at head-rail: emptied, used: clean, charge",
  "1 suction-unit at suction-mount: emptied, used: clean, charge",
  "2 oxygen-cylinder at cylinder-bay: emptied, used: refill",
  "1 ventilator at vent-bracket: emptied, used: clean, charge",
  "1 monitor at monitor-arm: emptied, used: clean, charge",
  "2 newborn-ear-cup at hearing-pouch: along: clean?",
  "1 small-ear-defender at hearing-pouch: along: clean?",
  "1 large-ear-defender at hearing-pouch: along: clean?",
];

/**
 * From the equipment: the cradle, its yoke and four straps restrain and are fitted; the bag stays in the bay; what the
 * waiting arrangement had and this one has not (capsule, warming mattress) was moved.
 */
export const CRADLE_FROM_EQUIPMENT: readonly string[] = [
  "1 child-cradle at deck: worn: clean",
  "1 cradle-yoke at yoke-anchors: worn: clean",
  "4 cradle-strap at strap-slots: worn: clean",
  "1 response-bag at lower-bay: used: refill, reseal",
  "1 newborn-capsule at store: opened, moved: clean",
  "1 warming-mattress at charger: moved: clean, charge?",
  ...ALWAYS,
];

/**
 * From the texts, act by act. Undress: canopy opened and closed, mattress to the foot shelf and on to the charger.
 * Unseat: four pins to the tray, capsule to the kit room. Lift off: base to the kit room. Fit: cradle, yoke, two and
 * two straps from the kit room. Pins and base have no `after-run`.
 */
export const CRADLE_ACTS: readonly string[] = [
  "turn canopy-catches open",
  "turn warmer-switch off",
  "move 1 warming-mattress warmer-slot foot-shelf",
  "turn canopy-catches closed",
  "move 1 warming-mattress foot-shelf charger",
  "turn capsule-cable unplugged",
  "turn base-pins out",
  "move 4 capsule-pin capsule-seat pin-tray",
  "move 1 newborn-capsule capsule-seat store",
  "turn head-flap up",
  "turn deck-lever released",
  "move 1 capsule-base deck store",
  "turn deck-lever locked",
  "turn deck-lever released",
  "move 1 child-cradle store deck",
  "turn deck-lever locked",
  "move 1 cradle-yoke store yoke-anchors",
  "turn yoke-buckle closed",
  "move 2 cradle-strap store strap-slots",
  "move 2 cradle-strap store strap-slots",
  "turn cradle-buckles closed",
  "turn side-rails up",
];

/**
 * Cooling on top of the waiting capsule: its canopy was opened and closed, the mattress went to the charger, the bag
 * into the vehicle locker, unit and mat came on. The rolls stay in their pouch.
 */
export const COOLING: readonly string[] = [
  "1 newborn-capsule at capsule-seat: worn, opened: clean",
  "1 cooling-mat at capsule-mattress: used: clean",
  "2 roll-support at capsule-pouch: along: clean?",
  "1 cooling-unit at lower-bay: used: clean",
  "1 warming-mattress at charger: moved: clean, charge?",
  "1 response-bag at vehicle-locker: moved: refill, reseal?",
  ...ALWAYS,
];
