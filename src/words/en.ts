/**
 * English: the fixed text of pages, cards and commands, by room. In braces stand the nouns of a service (`{patient}`,
 * `{patients}`, `{a patient}`, also with a capital) and what the caller gives (`{weight}`); a count chooses between two
 * forms, in which `#` is the count: `{steps:one step|# steps}`.
 */
/* eslint-disable @stylistic/max-len -- joined by `+`, an entry is no literal, and tsc does not ask for its slots */

/** English, whole: every other language has its rooms and entries. */
export const en = {
  /** The entry of a weight, the arrangements below it and what is answered. */
  chooser: {
    title: "Which arrangement for this {patient}",
    weightAsTold: "{Patient}’s weight, as you were told it",
    isEstimate: "Nobody has weighed the {patient}: it is an estimate",
    outside: "{outside}: {service} does not carry such {a patient}. Ask the {coordinator} on duty.",
    byWeight: "Arrangements of {which} by weight of the {patient}",
    about: "The arrangements of {which} by weight of the {patient}, their checklist cards and what changed.",
    weightColumn: "Weight of the {patient}",
    noneForWeight: "No arrangement is for {weight}. Ask the {coordinator} on duty.",
    gone: "{weight}. {gone} Check the number and the unit, and ask the {coordinator} on duty.",
    standsOnIt: "It stands on the {platform}.",
    nothingFromStore: "Nothing from {a kit room}.",
    countedFrom: "Counted from {arrangement}, in which the {platform} waits.",
    countedNoOrder:
      "Counted from {arrangement}, in which the {platform} waits. Not the order of work: the procedures give that.",
    noneStanding: "No arrangement is the one in which the {platform} waits: the changeover pages say what to carry.",
    waitsLikeThis: "Nothing: the {platform} waits like this.",
    noneForAge: "No arrangement is for {a patient} of {age}. Check the age.",
  },
  /** The table of bands and what to do in doubt. */
  bands: {
    askWhoWeighed: "Ask for the weight in kilograms, who weighed the {patient}, and when. Read it back with its unit.",
    estimate: "An estimate may be a tenth off. Near the end of a band, weigh the {patient} before you build.",
    longOrWide:
      "Weight is not the only limit. {A patient} who is long or wide for the weight may not fit: the maker’s instructions decide.",
    dangers:
      "True weights that a usual slip puts into another arrangement. If the {patient}’s weight lies at a bar, have it confirmed by a second person. A bar over the line leads to an arrangement for heavier {patients}, one under it to one for lighter {patients}.",
    forPatients: "For {patients}",
  },
  /** Items and places. */
  items: {
    mount: "a mount on the {platform}",
    behind: "stays behind when the {platform} leaves",
    onPlatform: "On the {platform}",
    stores: "{Kit rooms}",
    store: "{Kit room}, stays behind",
  },
  /** The search. */
  find: {
    platform: "{Platform}",
    allPlatforms: "all {platforms}",
  },
  /** Mass, balance and strength. */
  load: {
    patient: "{Patient}",
    patientEnd: "{Patient} {end}",
    patientOf: ", {patient} of {weight}",
    noPatient: ", no {patient}",
    withPatient: "With the {patient} {end}.",
    documentsDecide:
      "Each fastening is taken to hold the whole by itself. This is arithmetic on the collection’s figures: approved data and the documents of the {aircraft} or {vehicle} decide.",
    drawn: "{patient}",
    plan: "Plan from above, {head} end left, with the numbers of the count",
    headEnd: "{head}",
  },
  /** Cards on the screen and on paper. */
  cards: {
    byPatient: "Cards by {patient}",
    someLines: "Some lines are only for some of these {patients}. Printed cards with just the lines for one band:",
    forSome: "For some {patients}",
    forBand: " for {patients} {band}",
    exactly: "the lines for exactly these {patients}.",
    partOfPatients: "Cards for a part of its {patients}: {count}",
  },
  /** Changeovers, asked for and stepped through. */
  changeover: {
    nextNeeds: "The next {patient} needs",
    notTheSame: ". It is not the same for every {patient}: there are {count}.",
    groups: "Groups of {patients}",
    forPatients: "For {patients} {band}",
    noRun:
      "No run of approved procedures leads from {from} to {to} for any {patient} {band} whom the service carries ({service}). Go by way of the arrangement in which the {which} waits, or ask the person who keeps the procedures.",
    notForAll: "; not the same for every {patient}",
  },
  /** What stands on every page. */
  frame: {
    platforms: "{Platforms}",
    whichPlatform: "Which {platform} is it for?",
    noPlatform: "The collection has no {platform} yet.",
    weightsAre: "Weights are the {patient}’s, in kilograms",
  },
  /** Pages of procedures, configurations, options and their issues. */
  documents: {
    forBand: "For {patients} {band}.",
    isStanding: " This is the arrangement in which the {platform} waits.",
    forNone: "For none of these {patients}.",
    forNoneHere: "for none of these {patients}",
    notForEvery: "Not for every {patient} of this band",
    everyPatient: "every {patient}",
    patients: "{Patients}",
    proceduresLead:
      "{procedures} procedures with {steps} steps, in the order of the work. The bar shows for which {patients} each one is.",
  },
  /** The sheets of readiness. */
  ready: {
    caution:
      "Reckoned from what the collection says. Makers’ instructions, approved data of operator and {aircraft}, local codes and licensed practice decide; look at the thing itself.",
    worn: "held the {patient}",
    stateWords: "state of the {platform}",
    callAbout: "How long it takes from the call until {which} is ready, with the walk to each {kit room}.",
    stagesOverlap:
      "One fetches while the other begins, so stages overlap. Every question about the band that any of these {patients} may need is counted.",
  },
  /** What is out of service. */
  tonight: {
    lead: "What is broken, missing or away? Say it once: this device keeps it with the hour until you take it back, and the choice of an arrangement goes by it. Tell the {coordinator} and the next crew too: it is on no other device.",
    wayFor: "{from} to {to}, for {a patient} {bands}",
    some: "some {patients} can’t be carried",
    every: "every {patient} can still be carried",
  },
  /** Changeovers that are asked for, and the steps one at a time. */
  through: {
    chosenBefore: "For {a patient} of {told}, as chosen before.",
    which: "Which {patient}?",
    weightDecides: "The weight decides what this {patient} needs.",
    belongs: "Something belongs to it for this {patient}",
    notForThis: "Not for this {patient}",
    carriesNone: "The service carries no {patient} {band}.",
    told: "{a patient} of {told}",
    noWayFor: "with the approved procedures for {patients} {bands}.",
    forPatients: "For {patients} {bands}",
    another: "Another {patient}",
    takeAway: "This is for another {patient}: take the weight away",
    notWithout: "Not without more for this {patient}.",
    onlyThese: "For {a patient} of {told}: only these steps.",
    noWay: "No way with the approved procedures for {patients} {bands}.",
  },
  /** Drills. */
  drill: {
    whoComes: "{A patient} of {weight}, {age}, as told on the telephone.",
    noneOnIt: "No {patient} is on it, and none waits for it: whoever runs the drill says stop, and everybody stops.",
    changed: "Leave everything as it is. {A patient} of {weight}, {age}.",
    notCarried: "Key: this {patient} can’t be carried",
    tellAtOnce:
      "With that piece missing nothing can be built for this {patient}. They say so to the {coordinator} at once.",
    lead: "What stands, who comes, what is missing, signal or none. The same number gives the same drill here, on paper and by command, as long as the same texts are in force. The {patient} is invented; a drill is no sign-off.",
    none: "There is no drill: no two arrangements have a way between them for {a patient} of usual weight.",
  },
  /** What commands print. */
  commands: {
    notCarried: "The service does not carry this {patient}: it carries {band}.",
    noDrill: "No drill: `{which}` has no two arrangements with a way between them for {a patient} of usual weight.",
    thisPatient: "this {patient}",
    patientOf: "{a patient} of {weight}",
    isFor: "Caution: `{arrangement}` is for {a patient} {weight}, {age}, not for this one.",
    noWay: "No {approved}procedures lead from {from} to `{to}` for this {patient}.",
    documents: "Approved data and the {aircraft}'s own documents decide.",
    loadOf: ", {patient} {weight}",
    forPatient: "For {a patient} of {told}",
  },
  /** Questions, papers and drills. */
  study: {
    everyRun:
      "What is done whichever arrangement stands: checks, power and gas, the {vehicle}, the {patient}, cleaning. In the order of their codes, as the service numbered them.",
    others: "What neither builds nor takes down any of these.",
    changeovers: "A rebuild begins with what was there before.",
    seen: "Questions first; then somebody watches.",
    background: "Why things are as they are, and what the words mean.",
    nobody: "None of them: this {patient} is not for this {platform}",
    whichArrangement: "{which}: you are told that the {patient} weighs {told}. Which arrangement is it?",
    whichNotFor: "{which}. The {patient}: {told}. Which of these is not for this {patient}?",
    onlyFor: "{which} is only for {patients} {band}.",
    whichStep: "{which}. The {patient}: {told}. Which of these steps is for this {patient}?",
    stepFor: "Step {number} is for {patients} {band}.",
    forOneOf: ", for {a patient} of {told}",
    readyMissing: "{arrangement}, ready for {a patient}. One thing is missing here of what stands on {which}. Which?",
    noPatientInIt:
      "What you answered is in this browser and nowhere else: nobody else sees it, and no {patient} is in it. Take it to another device as a file.",
    paperLead:
      "{count} questions from the procedures as they are now. The same number gives the same paper, here and on every device that has the same set of procedures. Invented {patients} only.",
  },
  /** Why a question is worth asking. */
  worth: {
    poundsAsKilograms: "Pounds taken for kilograms would give this {patient} another arrangement.",
    kilogramsAsPounds: "Kilograms taken for pounds would give this {patient} another arrangement.",
    decimalPoint: "A decimal point in the wrong place would give this {patient} another arrangement.",
    rounded: "Rounded to whole kilograms, this weight is in another arrangement.",
    estimate: "An estimate cannot tell this weight from one of another arrangement.",
    happened: "It has happened: {incident}",
    critical: "The step is safety-critical.",
    hold: "Nobody goes on until it is done.",
    silent: "If it is left out or half done, nobody notices.",
    counted: "If it is left out or half done, only the count at the end tells.",
    onCard: "If it is left out or half done, only the card tells.",
    laterLine: "If it is left out or half done, a later line has to tell.",
    stopped: "If it is left out, the work stops further on.",
    twice: "If it is left out, the work has to be done twice.",
    atEnd: "The weight is at the end of an arrangement.",
    restsOn: "It is what the arrangement rests on.",
  },
  /** The words that the site uses. */
  glossary: {
    band: "The {patients} that something is for, by weight and sometimes by age. It says who owns each end: “from” and “up to” own it, “over” and “under” do not. A filled dot owns its end, a hollow one does not.",
    configuration: "A named arrangement of items for a band of {patients}.",
    folder: "A binder in {a aircraft}, {a vehicle} or at a base that holds numbered copies of cards.",
    place:
      "Where an item can be: a mount on the {platform}, a stowage that travels along, {a kit room} that stays behind, or a place on another item.",
    changeover: "The procedures, in order, that take the {platform} from one arrangement to another.",
    standing: "The arrangement in which the {platform} waits for the next call.",
    platform: "{Platform}",
    platformIs: "The thing that is rebuilt between {patients}.",
    dashed: "Only for the {patients} that the dashed label names.",
  },
  /** History, folders and reviews. */
  records: {
    isForPatients: "Is for {patients} {band}.",
    otherPatients: "For other {patients}",
    samePatients: "Put in the one for the same {patients}: {cards}.",
  },
  /** What is kept on a device after a run. */
  after: {
    kept: "The file holds days, procedures, steps, seconds and the words of notes: no names, no {patient}, no weight, no hour. Nothing leaves this device unless you send the file.",
  },
} as const;
