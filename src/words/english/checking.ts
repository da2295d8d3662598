/** English: what the check finds and says with a noun of the service's own (how entries are written: `en.ts`). */
/* eslint-disable @stylistic/max-len -- joined by `+`, an entry is no literal, and tsc does not ask for its slots */
export const checking = {
  /** What a step had in its last issue and has no more. */
  safeguardFindings: {
    lost: "Step {number} of revision {revision} loses {what}",
    mark: "its mark as safety-critical",
    hold: "its hold",
    checks: "a check",
    alerts: "a warning or caution",
    reason: "its reason (`Why:`)",
    notCritical: "no longer safety-critical",
    notHold: "no longer a hold",
    notChecked: "no longer checked",
    putBack: "Put it back; if it is meant to go, name the step in the change entry: `steps: [{id}]`",
    putBackUnnamed:
      "Put it back; if it is meant to go, give the step an id (`:::step#name`) and name it in `steps` of the change entry",
  },
  /** Bands that leave somebody out, own somebody twice, or reach beyond the service. */
  bandFindings: {
    saysOther: "The answer says `{said}`, and the band is `{right}`",
    answerRight: "Look which is right; then answer `{right}`, or put `weight` right",
    saysNone: "The answer says `{said}`, which is neither the band of this step nor of any configuration",
    answerMeant: "Look which is right; then answer with the band that is meant, or put `weight` right where it is not",
    fetchesForOthers: "`{id}` is for {a patient} {band}: none of those whom this asks about ({asked})",
    fetchLeavesOut: "`fetch` leaves out `{id}`, which is for some of the {patients} {band}",
    gap: "No configuration of `{id}` is for {a patient} {band}",
    reachHere: "Let the band of the configuration above or below it reach to here",
    reachOrNarrow:
      "Let the band of the configuration above or below it reach to here, or narrow `weight` in service.yaml",
    changeToCarried: "Change `{key}` of the procedure to {patients} who are carried, or widen `{key}` in service.yaml",
    doubtsOverlap: "Two entries of `doubt` ask about {a patient} {band}, each something of its own",
    overlap: "`{later}` and `{earlier}` are both for {a patient} {band}",
  },
  /** Numbers in words beside counts. */
  countFindings: {
    inWords: "`{words}` `{item}` in words, and {total} moved",
    countFirst: "Write `{right}`, or give the move `count={count}`: count them first",
    inAnswer: "The answer says `{words}` of `{item}`, and {total} {how}",
    thenAnswer: "Count them; then answer `{right}`, or put the `count` right",
  },
  /** None or several arrangements in which a platform waits. */
  standingFindings: {
    none: "No configuration is marked as the one in which the {platform} waits: a way back to it is not proved, and pages can't say from where a call begins",
    markOne: "Write `standing: true` in the configuration in which it waits for the next call",
    several:
      "`{other}` is marked as the one in which the {platform} waits, and so is `{first}`: the way back is proved to `{first}` alone",
    unmark: "Remove `standing: true` here, or there if the {platform} waits as `{other}`",
  },
  /** Options that some need and can't have. */
  requirementFindings: {
    forNone:
      "`{option}` is required for {a patient} {band}, and `{configuration}` is for none of them: it is for {a patient} {own}",
    nameItsOwn: "Let `requires` name {patients} of `{configuration}`, or remove this entry",
    notApproved: "`{option}` is required for {a patient} {band}, and is not approved: for them there is no arrangement",
    approveIt: "Approve `{option}`, or remove this entry until it is",
    onlyForOthers: "`{option}` is required for {a patient} {band}, and may be fitted only for {a patient} {own}",
    nameTheSame: "Let both name the same {patients}: the `weight` and `age` of the option, and those of this entry",
    cantBeFitted: "`{option}` is required for {a patient} {band}, and can't be fitted: {why}",
    apart: "`{other}` may be fitted for {a patient} {band}, who needs `{option}`: the two can't be together",
    letOneBeForOthers:
      "Let `{other}` be only for {patients} who don't need `{option}`, or let the two be together if they really can be",
    cantBeTogether: "`{option}` is required for {a patient} {band}, and can't be fitted together with `{other}`: {why}",
  },
  /** Masses, balance and ratings. */
  loadFindings: {
    noMass: "`{item}` has no `mass`: it counts as 0 kg wherever it is",
    weigh: "Weigh it and write `mass: … kg` (`mass: 0 kg` if it may be left out)",
    noPlace: "`{place}` has no `x`: what is there counts at the datum, and the balance point is wrong",
    measure: "Measure from the datum and write `x: … mm`",
    overMass: "`{arrangement}` weighs {mass} with {a patient} of {weight}: over the limit of {limit} {whom}{also}",
    tooFarForward:
      "`{arrangement}` balances at {balance} with {a patient} of {weight}: below the lower limit of {limit} {whom}{also}",
    tooFarBack:
      "`{arrangement}` balances at {balance} with {a patient} of {weight}: above the upper limit of {limit} {whom}{also}",
    forAll: "for every {patient} of the band",
    forHeavier: "for every {patient} over {weight}",
    forLighter: "for every {patient} under {weight}",
    load: "{mass} at {factor} g",
    loadWithPatient: "{mass}, {a patient} of {weight} among it, at {factor} g",
  },
  /** Frozen issues that are gone. */
  issueFindings: {
    putBack:
      "Put the file back from your version control, or from a backup or another copy of the folder: `rerig issue` writes it, nobody deletes it",
  },
  /** What is named where it stands in a folder that is not read. */
  asideFindings: {
    isAside: "The {word} `{name}` is set aside: it is in the folder `{folder}`, which is not read",
    takeOut: "Take it out here; or, if it is to be used again, take the `_` off the name of the folder `{folder}`",
  },
  /** Arrangements that no procedures lead to. */
  planFindings: {
    noWay: "No approved procedures lead from {pairs}{more}, for {a patient} {patientsBand}{nearest}{beyond}",
    orFrom: ", or from ",
    oddMove:
      "In {place} `{procedure}` moves {count} `{item}` {way} `{mount}`, where arrangements hold {held}: count them, and put right whichever is wrong",
    slip: "`{procedure}` moves {count} `{item}` from `{from}` to `{to}` here, and so {noWay}; with `{name}={right}` they do",
    putRight:
      "Look which is right: write `{name}={right}` here, or put right what is `fitted` in `{arrangement}`; if both are right, write the procedure that is missing",
    write: "Write or approve a procedure that makes the missing moves",
    writeOrWiden:
      "Write or approve a procedure that makes the missing moves, or widen the `weight` of the one that does",
    alsoLater: "{message}; {documents} {count:does|do}, from {date}",
    onlyLater:
      "{documents} {count:does|do} this, but {count:counts|count} only from {date}: give {count:it|them} the same day, or give the others {count:its day|theirs}",
    bandAndMore: "{band} and {more:# more band|# more bands}",
  },
  /** Temporary amendments of a revision that nobody works by on one of their days. */
  folderFindings: {
    noLongerUsed: "Copy {copy} of “{title}” in “{folder}” is no longer used: no card of it is in force",
    pull: "Take copy {copy} out of the folder, destroy it, and take its line out of folders.yaml",
  },
  /** What becomes of the rows of a spreadsheet. */
  tableTaken: {
    isSheet:
      "`{name}` is a spreadsheet. Open it there and save the sheet of equipment as “CSV UTF-8” (.csv). Nothing was written.",
    isSum: "it reads as a sum or a formula, not as an item",
    notRead: "“{written}” under {field}, of “{name}” in row {row}: {wanted}",
    countsOne: ". Without it the item counts as one",
  },
  /** Slips of the pen whose meaning is plain. */
  slipFindings: {
    write: "Write `{what}`",
    comma: "Put a comma between two items: `{all}`",
    bracketOpen: "The bracket after `{name}` is left open",
    closeBracket: "Write `]` behind its last word, before the brace: `{what}`",
    noBreak: "In the braces after `{name}` stands a no-break space, which only looks like a space",
    typeSpaces: "Delete the spaces in the braces and type them again",
    colonsToSpare: "`{name}` has more colons than line {line}, which is to end it: all that follows stands in it",
    fewerColons: "Write `{what}`, with as many colons as line {line}",
    readingFixed: "`{rule}` says how a file is read: no policy changes it, and this line does nothing",
    dropLine: "Remove the line",
    photoMeant: "If the photo `{near}` is meant, write that name. If not: ",
    wordOnly: "This paragraph begins with `{word}` and is read as plain text, not as a {sort}",
    writeNotice: "Write it as `::{sort}[…]`, with its words in the brackets, before what it warns of",
  },
  registerFindings: {
    writtenLater: "Revision {revision} of `{code}` was written on {written}, after {seen}",
    correctOne: "Correct the day, or the revision: write what stands on the form",
  },
  amendmentFindings: {
    inVain: "Amendment {number} runs on {day} and changes nothing: nothing is in force of “{procedure}” then",
    inVainFor:
      "Amendment {number} runs on {day} and changes nothing: it is about revision {revision} of “{procedure}”, and revision {other} is in force then",
    inForce: "Amendment `{number}` is about revision {revision} of `{id}`, and on {day} revision {other} is in force",
    nothing: "Amendment `{number}` is about `{id}`, of which nothing is in force on {day}",
    issueFirst: "Issue the procedure first, or remove it from `amends`",
    read: "Read revision {other}: if it still needs the amendment, write `{other}`",
    begin: "Begin this one on {day}, when revision {revision} does",
    beginAndAnother:
      "Begin this one on {day}, when revision {revision} does, and if revision {other} needs it until then, write another for revision {other} that ends on {eve}",
    replaced:
      "Amendment `{number}` is about revision {revision} of `{id}` and runs until {until}, and revision {other} takes its place on {day}",
    withdrawn:
      "Amendment `{number}` is about revision {revision} of `{id}` and runs until {until}, and the procedure is withdrawn from {day}",
    end: "End this one on {eve}: `until: {written}`",
    endAndAnother:
      "End this one on {eve} (`until: {written}`), and if revision {other} still needs it, write another that begins on {day} for revision {other}",
  },
} as const;
