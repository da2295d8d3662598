/**
 * Queries with the pages that answer them, written down before the ranking was tuned; the demo collection's addresses.
 */

/** What somebody types, and the addresses of which one must be among the first three results. */
export type Query = readonly [typed: string, ...right: string[]];

const p = (id: string) => `tern/procedures/${id}/`,
  i = (id: string) => `tern/items/${id}/`,
  pl = (id: string) => `tern/places/${id}/`,
  c = (id: string) => `tern/configurations/${id}/`,
  o = (id: string) => `tern/options/${id}/`,
  card = (id: string) => `tern/cards/${id}/`;

/** Words of a new starter. */
export const PLAIN: readonly Query[] = [
  ["seat capsule", p("seat-capsule")],
  ["how do I seat the newborn capsule", p("seat-capsule")],
  ["push the pins in", p("seat-capsule")],
  ["capsule pins", i("capsule-pin")],
  ["take the capsule off", p("unseat-capsule"), p("lift-off-capsule-base")],
  ["lock the base", p("lock-capsule-base")],
  ["child cradle", c("child-cradle"), i("child-cradle")],
  ["fit cradle", p("fit-child-cradle")],
  ["strap the child in", p("strap-child")],
  ["cradle straps", i("cradle-strap")],
  ["deck harness", c("deck-harness"), i("deck-harness")],
  ["harness clips", p("fit-deck-harness"), p("strap-patient"), i("deck-harness"), p("remove-deck-harness")],
  ["second ventilator", o("second-ventilator"), i("second-ventilator")],
  ["fit the second ventilator", p("fit-second-ventilator")],
  ["ventilator broken", p("change-failed-ventilator")],
  ["ventilator failed in flight", p("change-failed-ventilator")],
  ["gas shelf", o("gas-shelf"), i("gas-shelf")],
  ["remove gas shelf", p("remove-gas-shelf")],
  ["change oxygen", p("change-oxygen-cylinder")],
  ["oxygen cylinder", i("oxygen-cylinder")],
  ["pump rack", o("pump-rack"), i("pump-rack")],
  ["syringe pumps", i("syringe-pump"), p("fit-pump-rack")],
  ["cooling", o("cooling-unit"), p("fit-cooling-unit"), i("cooling-unit")],
  ["roll supports small baby", p("place-roll-supports"), o("roll-supports"), i("roll-support")],
  ["ear protection", p("hearing-protection")],
  ["hearing", p("hearing-protection"), pl("hearing-pouch")],
  ["ear defenders", i("small-ear-defender"), i("large-ear-defender"), p("hearing-protection")],
  ["clean after the job", p("clean-and-restock")],
  ["restock", p("clean-and-restock")],
  ["loose articles", p("loose-article-check")],
  ["load into the ambulance", p("load-to-vehicle")],
  ["unload", p("unload-from-vehicle")],
  ["daily check", p("readiness-check")],
  ["where is the pin tray", pl("pin-tray")],
  ["kit room", pl("store")],
  ["where does the response bag go", i("response-bag"), pl("lower-bay")],
  ["suction", i("suction-unit"), pl("suction-mount")],
  ["monitor", i("monitor"), pl("monitor-arm")],
  ["weight of the patient", p("confirm-band"), "", "tern/bands/"],
  ["danger weights", "tern/bands/"],
  ["pounds to kilograms", "tern/bands/"],
  ["checklist newborn", card("newborn-capsule")],
  ["child cradle card", card("child-cradle")],
  ["power and gas", p("power-and-gas-check")],
  ["start from cold", p("cold-vehicle-start")],
  ["what holds what", "tern/reading/what-holds-what/"],
];

/** Codes, whole and in part. */
export const CODES: readonly Query[] = [
  ["FCR-T-02", p("seat-capsule")],
  ["fcr t 02", p("seat-capsule")],
  ["T-02", p("seat-capsule")],
  ["FCR-T-C2", c("child-cradle"), card("child-cradle")],
  ["C3", c("deck-harness"), card("deck-harness")],
  ["fcrt05", p("unseat-capsule")],
];

/** Other names of the service. */
export const OTHER_NAMES: readonly Query[] = [
  ["incubator", c("newborn-capsule"), i("newborn-capsule")],
  ["pod", c("newborn-capsule"), i("newborn-capsule")],
  ["fit the incubator", p("seat-capsule")],
  ["stretcher", "", p("load-to-vehicle"), "tern/procedures/"],
  ["oxygen bottle", i("oxygen-cylinder")],
  ["ear muffs", p("hearing-protection"), i("newborn-ear-cup"), i("small-ear-defender")],
  ["child seat", c("child-cradle"), i("child-cradle")],
  ["drip pump", i("infusion-pump")],
  ["stock room", pl("store")],
  ["cot side", p("fit-child-cradle"), p("load-to-vehicle"), p("strap-child"), p("remove-child-cradle")],
];

/** Small misspellings. */
export const MISSPELT: readonly Query[] = [
  ["capsul", c("newborn-capsule"), i("newborn-capsule")],
  ["newbron capsule", c("newborn-capsule"), i("newborn-capsule")],
  [
    "ventilater",
    i("ventilator"),
    o("second-ventilator"),
    p("change-failed-ventilator"),
    pl("vent-bracket"),
    i("second-ventilator"),
  ],
  ["harnes", c("deck-harness"), i("deck-harness")],
  ["oxigen cylinder", i("oxygen-cylinder")],
  ["cradel", c("child-cradle"), i("child-cradle")],
  ["cylender", i("oxygen-cylinder"), p("change-oxygen-cylinder"), i("inhaled-gas-cylinder"), pl("cylinder-bay")],
  ["unseet the capsule", p("unseat-capsule")],
  ["matress", i("deck-mattress"), i("warming-mattress"), pl("capsule-mattress")],
  ["sirynge pump", i("syringe-pump")],
];

/**
 * Queries of crew and starters, written before anybody looked at what they find: with gloves, misspelt, by other names,
 * by codes, with weights. The ranking was not tuned on them.
 */
export const FRESH: readonly Query[] = [
  ["pins wont go in", p("seat-capsule"), i("capsule-pin")],
  ["capsle pins", p("seat-capsule"), i("capsule-pin")],
  ["spare pin", i("capsule-pin"), pl("pin-tray")],
  ["11 lb", "tern/bands/", p("confirm-band"), c("newborn-capsule"), ""],
  ["weight in pounds", "tern/bands/", p("confirm-band"), ""],
  ["T09", p("fit-deck-harness")],
  ["FCR-T-09", p("fit-deck-harness")],
  ["fcr-t-29", p("confirm-band")],
  ["t 21", p("readiness-check")],
  ["baby is cold", p("dress-capsule"), i("warming-mattress"), pl("capsule-mattress"), p("strap-newborn")],
  ["nitric oxide", i("inhaled-gas-cylinder"), o("gas-shelf"), p("fit-gas-shelf")],
  ["inhaled gas", i("inhaled-gas-cylinder"), o("gas-shelf"), p("fit-gas-shelf")],
  ["out of service", "tern/tonight/"],
  ["what can we still carry", "tern/tonight/"],
  ["something is broken tonight", "tern/tonight/"],
  ["put cradle on", p("fit-child-cradle")],
  ["crdle", c("child-cradle"), i("child-cradle")],
  ["take harness off", p("remove-deck-harness")],
  ["how tight are the straps", p("strap-child"), p("strap-newborn"), p("strap-patient"), p("fit-child-cradle")],
  ["winch", p("load-to-vehicle"), p("unload-from-vehicle")],
  ["helicopter loading", p("load-to-aircraft")],
  ["get trolley out of helicopter", p("unload-from-aircraft")],
  ["empty oxygen", p("change-oxygen-cylinder"), i("oxygen-cylinder"), p("prove-oxygen")],
  ["oxygen leak", p("prove-oxygen"), p("change-oxygen-cylinder"), p("power-and-gas-check")],
  ["start of shift", p("readiness-check"), "tern/ready/"],
  ["what has to be charged", "tern/ready/", p("readiness-check"), pl("charger")],
  ["is this card current", "check/", "tern/cards/"],
  ["check code", "check/"],
  ["practice questions", "tern/practise/"],
  ["sign off", "tern/sign-off/"],
  ["6 kg child", c("child-cradle"), "tern/bands/", card("child-cradle")],
  ["capsule to cradle", "tern/changeovers/newborn-capsule--child-cradle/", "tern/changeovers/"],
  ["tidy up after the run", p("clean-and-restock"), "tern/ready/"],
  ["roll suports", p("place-roll-supports"), o("roll-supports"), i("roll-support")],
  ["coling unit", o("cooling-unit"), i("cooling-unit"), p("fit-cooling-unit")],
  ["undres capsule", p("undress-capsule")],
  ["lift of the base", p("lift-off-capsule-base")],
  ["loose things", p("loose-article-check"), p("loose-article-base")],
  ["muffs", p("hearing-protection"), i("newborn-ear-cup")],
  ["heated matress", i("warming-mattress"), p("dress-capsule")],
  ["vehicle locker", pl("vehicle-locker")],
  ["tie down", p("tie-down-capsule")],
  ["cot", "", "tern/procedures/", p("load-to-vehicle"), p("loose-article-check")],
];
