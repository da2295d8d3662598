/**
 * English: what people ask of a page in everyday words, with the answer. A line for each question: the anchor on its
 * page that says more, if there is one; the question; the answer; other wordings, set apart by semicolons. The page
 * shows question and answer, and the search finds it by all of them (`site/find/asked.ts` reads the lines).
 */
/* eslint-disable @stylistic/max-len -- a question is one line, and joined by `+` an entry is no literal */
export const asking = {
  askedHere: {
    /** What stands over the questions of a page. */
    here: "Asked here",
    guide: `
      | Where do I begin as an author? | \`rerig new FOLDER\` writes a small collection that works; \`rerig write\` opens the desk, with forms beside the live page. | start a collection; first procedure; set up from nothing; getting started for educators; make a new site; make our own; I am no programmer; do I need to code
      | Is there a form to fill in, or must I type files? | The desk (\`rerig write\`) has a form for every file, and the page beside it as it will look. Every file can also be written as text. | editor; word processor; what program do I write in; edit without code; user friendly editor; open the desk; no programmer; not technical; is there a form; without code
      | How do I check what I wrote? | \`rerig check\` names each file and line that is wrong and says what to write instead. The desk says it at each step. | see my mistakes; validate; proofread; is it correct; find errors; test what I wrote; is it ready
      | How do I see it before others do? | At the desk the page stands beside the form. \`rerig build\` makes the whole site in \`dist\`, and \`rerig serve\` shows it on this machine alone. | preview; look at a draft; see how it looks; try it out; show a draft
      | How do I publish a change? | Approve and issue it, then run \`rerig build\` and put the folder \`dist\` where your site stands: it is plain files and needs no program there. | put it online; go live; update the site; upload the site; make it visible to crews; when will crews see my change; why is my change not shown; host; deploy
      | How do I get a procedure approved? | Another role than the author's reads it, leaves remarks, and approves it at the desk or by \`rerig approve NAME --as ROLE --effective DATE\`. It is refused while a remark has no answer or the file has errors. | approval; who may approve; who can approve; sign a procedure; authorise a document; get it signed; approve my own work; can I approve it myself; second person; four eyes; ratify; submit for approval
      | How do I issue a new version? | \`rerig issue\` freezes what is approved, and each card that prints something else as its next edition. Later edits are compared with it. | put into force; release; freeze; make it official; issue a revision; bring out a new version; finalise; lock a version; edition
      | How do I change something that is in force? | Raise \`revision\`, write under \`changes\` what is different and why, then have it approved and issued. Until then the old revision stays in force. | edit an approved procedure; correct a typo; fix a mistake in an issued document; typo without a new version; spelling mistake; without a new version; update a procedure; amend permanently; revise; new revision; next version; version number; small change; minor change
      | How do I bring an old version back? | At the desk, undo takes back what was saved on this day, and each file has a screen with all that was saved. Issued revisions stay readable in the history. | undo; go back; revert; restore; roll back; I deleted something; recover; lost my work; accidental change; undo what I saved; take back a save
      | How do I withdraw a procedure for good? | Set \`status: withdrawn\` and keep the file, so that nobody writes it again. With the next revision number and a later day in \`effective\`, it counts until that day. For some days only, write a temporary amendment. | retire; delete a procedure; remove a page; archive; obsolete; cancel a procedure; stop using; no longer valid; get rid of; take out of use; get rid of an old procedure; old procedure
      | How do I rename an item, a place or a step? | At the desk, ask for another id: it goes into every file that names it, in one save. Documents that were issued keep theirs. Its name alone is its field \`name\`. | change a name; call it something else; wrong name; rename a part; rename a thing; rename a photo; change an id; find and replace
      | How do I take in a Word document or a spreadsheet? | \`rerig import FILE.docx\` makes a draft with its pictures, \`rerig import FILE.csv\` makes items. Both say what they could not place and overwrite nothing. At the desk the same. | convert our old documents; import from word; import excel; existing procedures; bring in old paper; copy and paste from word; table of equipment; docx; csv; take over
      | How do I print cards for a folder? | \`rerig cards --folder ID\` makes one PDF with the cards of a folder and its list of effective cards. One card alone prints from its own page. | print all cards; pdf of the cards; print the checklists; laminate; print a folder; make cards; reprint
      | How do I know which printed cards are stale now? | \`rerig folders\`, and the page of folders, say what to reprint, where to put it and what to destroy. | old cards after a change; cards out of date; which cards must be replaced; what to reprint after a change; which copies
      | Who must be signed off again after a change? | \`rerig signoffs FILE.csv\` reads your own register and says who, because of which change. The register never enters the site. | reassess staff; does the change affect sign-offs; retrain; who needs retraining; competency after a change; keep a register; list of staff; training records; import the register; columns of the register; where do I record sign-offs
      | What does an item touch, if I must recall it? | \`rerig recall ITEM\` lists copies in folders, cards, steps, amendments, pictures, questions and sign-offs, in the order in which somebody would deal with them. | what is affected; which procedures use an item; impact of a change; manufacturer recall; faulty batch; change of equipment; new model; replace equipment; which documents mention
      | Can two people write at the same time? | What another editor has changed meanwhile is shown beside yours and never overwritten. | work together; co-author; several authors; conflict; overwritten; shared editing
      | What must be kept and backed up? | The whole folder of the collection, with \`issued\`: what stands there is never edited and never deleted. | backup; archive; where are my files; safe copy; where is it saved; is it saved
      | What is an id? | The short name by which files refer to a thing: lower-case letters, digits and hyphens, as \`base-pin\`. | yaml; markdown; mdx; file format; naming files; file names; quotation marks; comment in a file; colon in a text; brackets and braces; hash sign
      | How do I set a file aside without deleting it? | Begin its name, or its folder's, with \`_\`: nothing reads it. | hide a page; ignore a file; hide a draft from the crew; not to be seen by the crew; put a draft aside; keep notes; exclude
    `,
    guideService: `
      -crew | How do I name the people of the crew? | List them under \`crew\`: an id, which steps name, and who that is. | roles; nurse and doctor; paramedic; job titles; change the role names; add a role; third crew member; who is lead; who is second
      -weight | How do I say which {patients} we carry? | \`weight\` is the whole range; the bands of the configurations must fill it. \`age\` narrows it by age. | weight range of the service; lowest and highest weight; minimum and maximum weight; we carry bigger children; extend the range; age limit
      -other-names | How do I teach the search our own words? | \`other-names\` for words that others use for a thing, \`search\` for what people only type. | synonyms; slang; nickname; alias; people cannot find; search does not find; keywords; tags; abbreviations; local names; other word
      -words | How do I use our own word for {patient} or {aircraft}? | Under \`words\`: every page, card and command then says yours. | change the wording; casualty; terminology; call it a helicopter; vocabulary; terms; rename {patient}
      -policy | How do I switch a warning off? | Under \`policy\`, by the rule's name: \`off\`, \`warning\` or \`error\`. Rules about bands, parts, fastenings and load stay on. | ignore a warning; silence a message; too many warnings; disable a rule; stricter; severity; change a rule; make it an error; suppress
      -policy | How long may an amendment run? | At most 90 days, or what \`amendment-days\` says under \`policy\`. | longest amendment; extend an amendment; maximum days
      -cards | How do I choose the size of the cards? | \`paper\` is A4, A5 or A6, and \`laminate\` keeps a margin to be sealed. | paper size; laminated; pocket size; a4 or a5; card format; print cards a6; a6; small cards; lamination margin; bigger cards; smaller cards
      -language | How do I write in another language? | \`language\` is its tag: numbers, dates and lists are written as it does. | translate; Welsh; French; German; spelling; British or American; date format; decimal comma
      -site | How does a card know the address of our site? | Write it under \`site\`: cards print it, so that their code can be looked up there. | web address; url; link on the card; domain; where is the site
      -doubt | How do I make the chooser ask first near an edge? | Under \`doubt\`: for which weights or ages, what is asked, and what is fetched meanwhile. | borderline weight; unsure weight; double check the weight; question before the answer; on the edge; between two arrangements
      -chooser | How do I switch the weight entry off? | \`chooser: false\`; the table of bands is there either way. | hide the weight box; no calculator; remove the chooser
      -demands | How do I set what oxygen is used? | Under \`demands\`: each flow in litres a minute, and which items feed it. | how much oxygen is used; gas consumption; flow rate; litres per minute; how long cylinders last; endurance table
      -reserve | How do I keep a reserve of gas and battery? | \`reserve: 2\` keeps half: the minutes are divided by it. | safety margin; safety factor; half in reserve; spare oxygen
      -name | Where is the service's name set? | In \`name\`: it stands on every page and card. | change the title of the site; name of our organisation; logo; header
    `,
    guidePlatform: `
      -places | How do I add a place on the {platform}? | An entry under \`places\`: its name, whether it is a mount, travels along or stays behind, and where it is. | shelf; drawer; bay; rail; pocket; new location; where things stand; cupboard; storage place; mounting point
      -fastenings | How do I add a pin, a lever or a strap that holds something? | An entry under \`fastenings\`: its states, which of them is secure, and the place that it holds. | catch; latch; buckle; clamp; lock; brake; valve; switch; plug; new fastening; locked and released; secure state
      -fastenings-rated | How do I write how strong a fastening is? | \`rated\` is the force; with \`factors\` the check compares it with what it holds. | breaking load; kN; strength; rating; crash rating; crash test; g force; certified load
      -limits | How do I set what the {platform} may weigh at most? | \`limits\` by the maker's or operator's approved data: the mass, and where the balance point must lie. | maximum load; total weight; centre of gravity; balance; overload; payload; weight and balance; gross weight
      -own | Where do I write what the {platform} itself weighs? | Under \`own\`: its mass, and where it acts. | empty weight; bare weight; tare; its own mass
      -factors | Where do the load factors come from? | From the operator's approved data; \`source\` names the paper. | g loading; crash load; forward and sideward; acceleration; 16 g
      -places-walk | How do I say how far the {kit room} is? | \`walk\` is the way to it, one way; a fetch counts it there and back. | walking time; distance to it; fetch time
      -places-ready | How do I add a line to the shift check for a place? | Under \`ready\`: what is to be seen, and every \`shift\`, \`day\`, \`week\` or \`run\`. | daily check line; readiness sheet; checked each shift; weekly check; add to the daily check
      -confirms | How do I have the weight confirmed by a procedure? | \`confirms\` names it, and the chooser shows its steps. | read back of the weight; confirm the band
      -datum | What is the datum? | From where \`x\` is measured, and which way: say it in words. | measuring point; where is zero; coordinates; position along it; x and y
      -name | How do I add a second {platform}? | A folder with its own \`{platform}.yaml\` is a {platform}; its equipment, configurations and procedures stand beside that file. | one more of them; two of them; new {vehicle}
    `,
    guideEquipment: `
      -name | How do I add a piece of equipment? | An entry in \`equipment.yaml\`: its id, \`name\`, \`home\`, and how many there are. | new item; new device; new kit; add a pump; add a monitor; register equipment; equipment list
      -count | How do I say how many there are? | \`count\` is how many pieces there are; left out, it is one. | quantity; number of pins; spares; how many pieces; lost one; fewer; bought another
      -mass | Where do I write what an item weighs? | \`mass\` is what one piece weighs; without it its load is not worked out. | weight of equipment; kilograms of a device; load of an item
      -home | Where do I write where an item is kept? | \`home\` is where it is when nobody needs it. | storage; location; lives; put away; where it belongs; stock
      -ready-until | How do I record an expiry or a service date? | \`until\` under \`ready\`: the last day on which it is good. It comes into the calendar of dates. | expiry; expires; service due; maintenance; inspection date; calibration; out of date; use by; shelf life; reminder
      -ready | How do I add something to the daily check? | Under \`ready\`: what is to be seen, and how often. It becomes a line of the readiness sheet. | shift check; readiness; look at it every week; checklist of equipment; inspection; add to the shift check
      -after-run | How do I say what is cleaned or charged after a run? | Under \`after-run\`: \`clean\`, \`charge\`, \`refill\` or \`reseal\`. | restock; cleaning; recharge; refill; disinfect; after the mission
      -restrains | How do I say whom a restraint may hold? | \`restrains\` is the rated weight by its maker's data; a band outside it is an error. | maximum {patient} weight; rated for; maker's limit; weight limit of a harness; child seat rating
      -contents | How do I write how much gas a cylinder holds? | \`contents\` is the gas in one full piece, at 1 bar. | litres of oxygen; cylinder size; cylinder volume; full cylinder
      -runs | How do I write how long a battery lasts? | \`runs\` is how long one full battery lasts. | battery life; hours of battery; running time; power
      -replaced | How do I say that a device was replaced by a new model? | \`replaced\` is the day since which this model is in use; older photos of it are pointed out. | new model; new version of a device; old photos; upgrade; changed equipment
      -places | How do I say that an item has pockets or mounts of its own? | Under \`places\` of the item. What is in them travels with it if \`carries\` is true. | bag with pockets; drawer in a device; part of an item; attached to; compartment; contents of a bag
    `,
    guideConfiguration: `
      -weight | How do I set the weight band of an arrangement? | \`weight\` in words that say who owns each end: \`from 5 kg to under 40 kg\`. | weight limits; cut off; kilograms; band; from and to; change a band; overlapping bands; gap between bands; which end counts; exactly 5 kg
      -fitted | How do I write what stands where? | Under \`fitted\`: each place by its id, with what is in it. Every other item is at its home. | layout; arrangement; set up; what is mounted; new configuration; add a configuration; build up
      -fitted | How do I add a line to the checklist? | Write a \`check\` under the head of the configuration: the challenge in brackets, and the answer. | card line; checklist item; final check; change the card; new line on the card; challenge and response; order of the lines
      -options | How do I allow an option with an arrangement? | List it under \`options\`, in the order in which they are read. | extra; add-on; optional equipment; which options go together
      -requires | How do I make an option compulsory for small {patients}? | Under \`requires\`: the option, and for which weights or ages. | mandatory; must have; needed under; always with; required option
      -authority | How do I cite the paper that approves an arrangement? | Under \`authority\`: whose paper, its reference with its issue, and its date. | reference; source; manufacturer's manual; approval document; certificate; citation; evidence; legal basis
      -standing | How do I say in which arrangement the {platform} waits? | \`standing: true\` in that configuration. | default; standby; waiting; home state; usual setup; between calls
      -fastenings | How do I say that a brake is off in an arrangement? | Under \`fastenings\`: those that stand otherwise than secure. | unlocked; open; state of a lever; left open
    `,
    guideOption: `
      -fitted | How do I add an option, such as an extra ventilator? | A file in \`options\` whose \`fitted\` says what stands where on top of the configuration; then list it in the configuration. | optional equipment; extra kit; add-on; accessory; new option
      -not-with | How do I say that two options do not go together? | \`not-with\` names the other one. It counts both ways. | conflict; exclude; incompatible; either or; not at the same time
      -empty | How do I say that something must make room? | \`empty\` names the places that it clears. | clear a place; take out first; remove what is there; displace
      -fitted | How does an option change the checklist? | Its own \`check\` lines are added to the card; \`replaces\` names the line whose place one takes. | card with an option; extra lines; replace a line
    `,
    guideProcedure: `
      -title | How do I write a new procedure? | A file of its own with a head between two lines \`---\` and its steps under it. Its title says what is done, as an order. | start a procedure; create an instruction; add a page; new document; template; naming a procedure; good title
      -code | Who gives a procedure its number? | \`code\` is its number in your own papers: no two documents have the same. | numbering; document number; reference number; identifier
      -status | What do draft, in review, approved and withdrawn mean? | Only what is \`approved\` counts. The others are drafts of what may come, or what is gone. | status; state of a document; draft not shown; my draft does not appear; show a draft to nobody; keep a draft from the crew; when do crews see a draft; is it in force; proposed; not in force; retire; withdraw a procedure; obsolete; delete
      -effective | How do I say from which day it counts? | \`effective\` is the day; until then it is shown as coming. | start date; valid from; in force from; go live date; delay a change; future date; publish later; date of effect
      -review-by | How do I set when it must be reviewed? | \`review-by\` is the day by which it is looked at again; the page of reviews and its calendar remind of it. | review date; next review; expiry of a procedure; overdue; yearly review; remind me; due date; extend the review; how often
      -owner | Who answers for a procedure? | \`owner\` says who. | responsible person; author; contact; who wrote it; document owner; who do I ask
      -approved-by | Who may approve a procedure? | Somebody other than who made the change; \`approved-by\` names the role. | approver; approval; second person; signature; authorised by; approve my own
      -revision | What is a revision? | The number of this version. Raise it with every change of something that was issued, and say under \`changes\` what changed. | version; version number; new revision; revision not raised; edit an issued document; version control
      -changes | How do I write what changed and why? | One entry under \`changes\` for every revision above 1: day, who, summary and reason. | change log; history; reason for change; change note; summary of changes; what is new; tell staff
      -changes-sign-offs | How do I say that people must be signed off again? | \`sign-offs: again\`, or \`stand\` if the old ones stand. Left out, it is worked out from what changed. | reassessment; retraining; competency after a change; sign-offs lapse; stale sign-offs; keep sign-offs
      -phase | What is the phase? | Where it belongs in a changeover: \`confirm\`, \`take away\`, \`clean\`, \`build\`, \`option\` or \`supply\`. | order of procedures; when is it done; sequence; comes first
      -weight | How do I write a procedure for some {patients} only? | \`weight\` and \`age\` narrow it; a single step can be narrowed too. | only for the smallest; only under; applies to; for small babies; age limit
    `,
    guideSteps: `
      step | How do I write a step? | A block that begins with \`:::step\` and ends with \`:::\`. Its first paragraph is the instruction. | add a step; new step; instruction; sentence; how long should a step be; one action; format of a step; order of steps; move a step; insert a step; delete a step; bullet points; numbered list; sub step
      step-by | How do I say who does a step? | \`by\` names a role of the crew, several, \`both\`, or \`all\`. | role; nurse or doctor; two people; both crew; who performs; responsible for a step; assign
      step-critical | How do I mark a step as safety-critical? | Write \`critical\`: it hurts somebody if it is left out or done wrong. | important step; red step; dangerous step; essential; highlight; must not be missed
      step-hold | How do I make the crew stop until it is checked? | Write \`hold\`: nobody goes on until it is done and its answer is heard. | hold point; pause; stop point; wait; independent check; do not proceed; gate
      step | How do I give the reason for a step? | A paragraph in it that begins \`Why:\`. | rationale; explanation; explain why; background to a step; reason
      step-photo | How do I show a photo at a step? | \`photo\` names its file without the ending; several may be named. | picture; image; illustration; add a photo to a step; two photos; attach
      step-takes | How do I say how long a step takes? | \`takes\`, as in \`40 s\`; left out it is 20 s. | time; duration; seconds; minutes; how long; timing; estimate
      step-weight | How do I make a step only for some weights or ages? | \`weight\` and \`age\` of the step. | only for small {patients}; conditional step; if the child is; applies to; skip a step; depending on weight; weight-dependent
      step-after | How do I say that one step must come before another? | \`after\` names the steps that must be done before it. | order; sequence; depends on; first do; prerequisite
      step-guards | How do I link a step to an incident? | \`guards\` names the incident that it guards against. | near miss; lesson learned; because of an incident; reference to a report
      step-unnoticed | What do I do when the check says that nobody would notice? | Add a check that would see it, or say under \`unnoticed\` why it can't be helped. | unnoticed slip; nobody notices; omission; missed step; left out
      warning | What is the difference between a warning, a caution and a note? | A warning is about people, a caution about equipment, a note only helps to know. | danger; hazard; alert; signal word; yellow box; red box; which box; when to use a warning
      warning | How do I add a warning? | A block that begins with \`:::warning\`, before the step that it belongs to. | danger sign; hazard; safety message; alert box; caution box; where does the warning go; risk to the {patient}; write warnings
      note | How do I add a tip? | A block that begins with \`:::note\`: it informs and never instructs. | hint; remark; information box; extra information; comment
      move | How do I write that something is taken from one place to another? | A line \`::move\` with \`item\`, \`from\` and \`to\`. | put; carry; take out; where it goes; move an item; parts; relocate; pick up; aside
      turn | How do I write that a pin or lever is opened or locked? | A line \`::turn\` with \`fastening\` and the state \`to\` which it goes. | lock; unlock; close; open; switch on; plug in; brake; release; state
      check | How do I add a check with its answer? | A line \`::check\` with the challenge in brackets, \`by\` and \`answer\`. | challenge and response; read aloud; confirm; verify; double check; question and answer; who checks; cross check; tick box; checklist line
      card | How do I say when the card is read? | \`::card\` in that step; left out, the reading comes at the end. | read the checklist; reading the card; when is the checklist done
      include | How do I use the steps of another procedure? | A line \`::include\` that names the procedure. | reuse; same steps twice; reuse steps; same step in two procedures; share a step; steps from another procedure; copy steps; refer to another procedure; link procedures; repeat; nested; sub procedure
      item | How do I link a word to an item or a place? | \`:item\` or \`:place\` in the sentence. | hyperlink; cross reference; link to equipment; mention an item; clickable
      step-replaces | How do I replace a step for some days? | In a temporary amendment, \`replaces\` names the step whose place it takes. | temporary step; swap a step; override; interim
      step-id | How do I refer to a step? | Give it an id, as \`#push-pins\`. | name a step; step number; link to a step; anchor; renumber
    `,
    guidePhoto: `
      | How do I add a photo? | Put the picture into \`photos\` with a file of the same name beside it, or take it in at the desk, which turns it upright and takes camera, place and owner out. Name it in the step. | insert a picture; upload an image; take a picture; phone camera; new photo; where do pictures go; jpg; png; file type; heic; iphone; file size; big photo; rotate; blurry
      -alt | What do I write for people who cannot see the picture? | \`alt\`: what is to be seen, in words. | description; caption; alt text; blind; screen reader; accessibility; photo text
      -marks | How do I put numbers or arrows on a photo? | Under \`marks\`: a number or an \`arrow\`, where it is, and a label. At the desk they are moved by hand. | annotate; arrow; label; circle; point at; callout; draw on a picture; highlight a part; mark a picture; numbering in a photo
      -crop | How do I cut a photo? | \`crop\` says which part is shown; the four edges are moved by hand at the desk. | trim; zoom in; smaller section; cut out; edges; enlarge; hide the background
      -taken | How do I know that a photo is out of date? | With \`taken\` and \`shows\` the check points out photos older than what they show. | old photo; stale picture; date of a photo; retake photos; picture does not match; wrong picture; which photos; replace a photo; update a picture; new picture
      -shows | How do I say what is to be seen in a photo? | \`shows\` lists the items. | items in the picture; contents of a photo; tag a photo
      | How do I make a picture for dark screens? | Only of a line drawing: a second file whose name ends in \`night\`, with eight digits of the picture's hash. | dark mode; night; drawing; black background; red light
    `,
    guideReading: `
      -title | How do I write a background page? | A file in \`reading\` with a title and text; warnings, notes and photos may stand in it, steps may not. | explanation; theory; teaching material; article; lesson; information page; reading; text page; handout; policy text; introduction; add a table; bands in a text
      -summary | What is the summary for? | It tells in the list of pages what the page is about. | description; subtitle; abstract
      -order | How do I order the background pages? | \`order\`: smaller numbers first. | sort; sequence; first page; menu
    `,
    guideAmendment: `
      -from | How do I change something for a few days only? | A temporary amendment: it holds from its first to its last day and then lapses by itself, on a device that is off line too. | short-term; interim; urgent change; emergency change; temporary notice; safety notice; alert to crews; bulletin; quick change; this week only; stop press; memo; for two weeks; for 2 weeks; for 2 wks; only for now
      -until | How do I end an amendment early? | Set \`until\` to its last day, and build the site again. | cancel; lift; withdraw an amendment; extend; prolong; how long does it last; expire; over
      -out | How do I take an item out of service for everybody? | \`out\` names items of which every piece is out of service meanwhile. | faulty; recall; do not use; broken batch; quarantine; withdrawn equipment; supplier recall
      -amends | How do I say which procedure an amendment changes? | \`amends\` names the procedure and its revision, and no other revision. | applies to; which document; affected procedures; belongs to
      -reason | Who approves an amendment? | \`approved-by\` names a role that is not its owner. | reason; authority; sign the amendment; why
      | What happens to the printed cards meanwhile? | The amendment's page prints a slip that lies over the cards, and audits of folders ask for it. | slip; sticker; laminated card during an amendment; print the slip; overlay
    `,
    guideFolders: `
      -name | How do I add a folder or binder? | An entry in \`folders.yaml\`: its id, \`name\`, and the copies in it. | new binder; new van; another base; flight folder; where are the cards
      -copies | How do I record that a new card was put in? | At its copy write the new \`check\` code and the day it was \`placed\`. | replaced a card; swapped; update the list; card copy; which card lies there; exchange; done the reprint; tick off
      -copies-check | What is the check code? | The code that is printed on the copy; by it the program knows whether the card is in force. | code on the card; seven characters; letters and digits; identify a card; which edition
      -copies-card | How do I put a card with an option into a folder? | \`card\` is the configuration with a \`+\` before each option. | several options; card of an option; combination
    `,
    guideIncidents: `
      -summary | How do I write up a near miss? | An entry in \`incidents.yaml\`: the day, what went wrong in a sentence, and the report. A step then says that it guards against it. | incident; report; accident; lesson; what went wrong; add an incident; put a near miss into a procedure; learn from events; adverse event; no names; anonymous
      -reference | Where does the full report stand? | \`reference\` names it; the report itself stays in your own system. | report number; investigation; link to a report; case number
    `,
    guideReview: `
      -remarks | How do I comment on a draft? | A remark at a step, at the desk or under \`remarks\`: who says it, the day, and what is said. | feedback; suggest a change; reviewer; leave a remark; comments; proof reading; ask colleagues; peer review; consultation
      -remarks-answer | How do I answer a reviewer? | Under \`answer\` of the remark. A remark without an answer keeps the revision from being approved. | respond; reply; resolve a comment; close a remark; open remarks; why can't I approve; cannot be approved; approval refused
      -document | What is the review sheet? | The revision with its remarks on one page, to read and print; its code goes into \`rerig issue --signed\`. | print a review; sign on paper; wet signature; meeting; committee; minutes
    `,
    rules: `
      | What does a message of the check mean? | Look for its name here, as \`parts/not-enough\`: each rule has what it asks, why, and a good and a bad example. | explain an error; meaning of a finding; what is wrong; error message; red message; how do I fix; why does it complain; says not enough
      | What is the difference between an error and a warning? | An error stops the build; a warning does not. | severity; must I fix it; can I ignore it; build fails; will not build; blocked
      | Can I switch a rule off? | Under \`policy\` in \`service.yaml\`, but not those about text, bands, parts, fastenings and load. | disable; ignore; too strict; turn off; silence; exception
    `,
    review: `
      | What is due for review? | Dates stand in the order in which they come, with what is overdue first. The calendar can be taken along. | overdue; next review; expiring procedures; what must I look at; which documents; stale; out of date documents; old procedures; which pages are out of date; what is out of date; to do list; my tasks; remind
      findings | What still has to be mended? | Open findings: what the check says now, and what to do about each. | warnings; problems; open issues; errors; what is wrong with the collection; mistakes
      | What is waiting for approval? | Under what is proposed: drafts, what is in review, and what is approved and still coming. | pending; in the pipeline; drafts; not yet in force; upcoming changes; what will change; planned; what is coming; future revision; who has to approve
      | Which slips would nobody notice? | At the end: each slip that can be made, and whether a step, the count, the card or nobody would see it. | omission; missed steps; weak points; risk analysis; left out; quality; human error
    `,
    folders: `
      | Which cards must be reprinted? | Those under the list: what to print before you walk, and for which folder. | out of date; stale; old laminated cards; which ones to replace; reprint; how many copies; swap; new cards
      | Which cards are in which folder? | Open the folder: its list of effective cards has every copy with its code. | where is the card; binder; contents of the folder; flight folder; inventory of cards; who has which card
      | How do I audit a folder? | Each folder has an audit sheet to walk with, and a swap pack with what goes in and comes out. | check the binder; audit; walk round; inspection of cards; verify; monthly check
    `,
    check: `
      | Is my card still current? | Type the check code from the card: the page says whether it is in force or what has replaced it. | valid; old card; out of date; expired; laminated; still good; right version; may I use this card; found a card; replaced; which is newest
      | Where is the code on a card? | Printed on it as check code, two groups of letters and digits. | find the code; number on the card; what is the code; barcode; qr
    `,
    cards: `
      | How do I print a card? | Open it and press Print: it is made for A4 or A5. Whoever keeps the folders prints a whole one at once, on smaller paper too. | print the checklist; paper; pdf; a4; a5; laminate; copy; new card; hand out; lost card; replace a damaged card
      | What is the black edge on a card? | It stands at the height of the card's weights: laid on one another, the cards are a stair. | stripe; bar; mark at the side; black mark; tab
      | When is the card read, and by whom? | When all is built: one reads the challenge, the other looks and answers. | challenge and response; how to use a checklist; who reads the card
      | What is the second look? | A card of open questions for somebody who did not build it; the answers stand on a key apart. Whoever keeps the folders prints both. | second check; independent check; checker; key; separate card for the checker
    `,
    history: `
      | What has changed lately? | The newest changes stand on top, each with its reason and its notice. | news; latest; recent changes; what is new; updates; what changed; last change; changelog; bulletins; which procedures were updated; what was changed last
      | Why was it changed? | Each entry says why; its notice says what to do differently. | reason for a change; because of; background of a change
      | Can I see an old version? | Every revision that was issued stays readable under its document. | previous; earlier revision; last year; before the change; archive; how was it done before; past; compare versions; difference
      | How am I told of changes? | By the feed of issues; notices can be printed, and after a time away the page “I was away” says what matters to you. | subscribe; notified; email; alert; rss; tell staff; inform the crew; hear about
    `,
    incidents: `
      | What has gone wrong before? | Each incident with its day and the steps that guard against it now. | near misses; accidents; mistakes that happened; lessons; errors; events; common mistakes; mistakes people make; what people get wrong; what can go wrong; has anyone been hurt
      | How do I report something that went wrong? | In your service's own reporting system. What is learned from it is written here by whoever keeps the procedures. | report an incident; near miss form; tell someone; raise a concern; accident form; who do I tell; complaint
    `,
    glossary: `
      | What does a word mean here? | The words of the service and of this site, with their signal words. | meaning; definition; term; what is; jargon; explain; abbreviations; acronym; what does it stand for; square round the number; diamond round the step; ring round a number; symbols; signs
    `,
    signOff: `
      | How do I get signed off? | Somebody else watches you do it and fills in the record. Your service says by whom and how often. | be assessed; competency; pass; qualify; allowed to work; get approved; become competent; practical exam; observed; cleared; solo; how many times; who can sign me off; what do I need; requirements
      | Must I be signed off again after a change? | The record says from which revision a sign-off stands; notices say where it is asked again. | still valid; expire; lapse; renew; again; redo; how often; redo competency; do it again; how long does it last; refresher; repeat; retake; update my competency
      | Who is signed off? | This site keeps no names: ask whoever keeps your service's register. | list of names; who is trained; who may do it; register; competent staff; who can
      | How do I print a sign-off form? | Open its record and print it. | assessment form; blank record; competency sheet; assessor's form; paper
    `,
    study: `
      | Where do I start as a new starter? | At the top: background first, then what is done on every run, then each arrangement. | first day; first week; begin; what to learn first; reading list; induction; order; new job; beginner; what should I read; curriculum; syllabus; programme; plan; learn everything
      | How much is there to learn? | The count of procedures and questions stands at the top; what you have read is marked with its day. | how long does it take to learn; progress; how far am I; how many procedures; finished; done; tick off
    `,
    practise: `
      | How do I test myself? | Choose what to be asked, and begin a round. What could hurt most comes first. | quiz; questions; exam; revise; mock test; practice; flash cards; self test; refresher; multiple choice; prepare for sign-off
      | Does anybody see my answers? | No: they are in this browser and nowhere else. | private; score; marks; results; recorded; my boss; monitored; who sees; pass mark; saved; confidential; wrong answers
      | How do I move my record to another device? | Save it as a file there and take the file in here. | new phone; transfer; export; lose my progress; backup; sync; other computer; reset; forget; start over; delete
    `,
    questionPaper: `
      | How do I print a test? | Choose a number and print: the same number gives the same paper everywhere, with its answer sheet. | exam paper; quiz on paper; written test; test for a group; classroom; answers; marking; teach a class
    `,
    drills: `
      | How do I run a drill? | Draw a number, print the sheet for the crew and the key for whoever runs it, or step through it here. | exercise; scenario; simulation; training session; teach; practise for real; rehearsal; dry run; role play; team training; train the crew
      | Does a drill count as a sign-off? | No. The {patient} is invented; a drill is no sign-off. | competency; counts; record; certificate
    `,
    away: `
      | What changed while I was away? | Say when you were last here and what you are signed for: you get what is done differently now, ten lines at most. | holiday; leave; back; sick; maternity; catch up; missed; since; returning; a long time; been off; come back; long absence; what is new; whats new; off for months; been away
    `,
    tonight: `
      | What do I do when something is broken or missing? | Tick it here: the page says whom you can still carry, and the chooser goes by it. Tell the {coordinator} too. | fault; failed; damaged; lost; out of service; not working; without; do without; defect; snapped; torn; cracked; missing piece; part is broken; flat; can we still go; are we still on line; report a fault; spare; replacement
      | Does the next crew see what I ticked? | No, it stays on this device: tell them and the {coordinator}. | handover; hand over; tell the next shift; share; other device; {coordinator}; pass on
    `,
    ready: `
      | What is looked at each shift? | Every line here, in the order in which you walk. | what to look at; weekly looks; how often is it looked at; round of the {platform}
      | When does something expire? | Lines with a date say until when; the calendar has all dates. | expiry; use by; service due; out of date; next service; date; calendar; maintenance
      | What has to be where? | The sheet says place by place what must stand there, and how many. | inventory; stock; contents; kit list; missing; what belongs; count
    `,
    endurance: `
      | How long do oxygen and batteries last? | The table has the minutes with the arithmetic. | how many minutes; enough oxygen; enough gas; how much oxygen is needed; oxygen needed; run out; litres; cylinder time; battery hours; how far can we go; long transfer; consumption; remaining
    `,
    call: `
      | How long until we are ready to go? | The time from the call, with the walk to each {kit room}. | mobilisation; response time; time to leave; minutes to ready; scramble; get going; setup time; how quickly
    `,
    stateCard: `
      | How do others see that it is ready? | A card for the handle says ready, or what is missing. | tag; label; sign on the handle; status; red; green; show that it is broken; do not use
    `,
    bands: `
      | Which arrangement is for which weight? | The table has each band with who owns each end. | weight chart; limits; ranges; which seat; from when; how heavy; how big; biggest; smallest; too heavy; maximum; minimum; cut off
      | What if the weight is exactly on the limit? | “From” owns its end and “under” does not: exactly 5 kg is in the band from 5 kg. | borderline; edge; between; on the line; boundary; exactly; just over; just under
      | What if the weight was in pounds? | The table shows which weights a slip between pounds and kilograms puts into another band. | convert; lb; ounces; stone; wrong unit; decimal point; mix up; confuse
    `,
    changeovers: `
      | How long does a changeover take? | The table has each way with its time and the crew's. | time to rebuild; minutes to reconfigure; fastest way between two arrangements; from one {patient} to the next
    `,
    amendments: `
      | What holds only for now? | Each temporary amendment with its first and last day. | temporary; notice; alert; recall; withdrawn; warning in force; current notices; safety notice; for the moment; interim; bulletin; this week
    `,
    device: `
      | Does it work without a signal? | Yes, if this device has saved the set: this page says which, and how old it is. | offline; no internet; no reception; flight mode; {aircraft}; download; save; phone; tablet; wifi; underground; remote; in the air
      | How do I know that this device is up to date? | The page says of which day its set is, and fetches a newer one where there is a signal. | old version; update; refresh; sync; latest; stale; reload; out of date; app
    `,
  },
  ruleAsked: {
    /** What authors type when a rule has said something: a line for each rule, its wordings set apart by semicolons. */
    of: `
      text/bad-value: value not accepted; wrong date format; not a number; unit missing; unexpected value; bad value
      text/duplicate-code: same code twice; two documents with one number; code already used
      text/no-configuration: no arrangement yet; nothing built yet
      text/duplicate-id: same id twice; name already used; double id
      text/hold-without-check: hold point without a check; hold has no answer
      text/missing-field: something is missing; field missing; no title; no weight; no answer; forgot a field
      text/not-data: code is not allowed; script in a procedure; html not allowed
      text/not-read: file is ignored; file is not used; strange file; not shown on the site
      text/syntax: file cannot be read; bracket missing; quotation mark missing; colons missing; not closed; broken file; indentation
      text/unknown-directive: unknown block; typed the block wrong; colons word not known
      text/unknown-field: unknown field; field spelled wrong; typo in a field name
      text/unknown-id: there is no such item; item does not exist; no such place; unknown name; misspelt name; not declared; not found
      bands/doubt-fetch: fetch in a doubt is wrong
      bands/empty: band holds nobody; upper end below lower end; from and to swapped
      bands/gap: gap between bands; weight without an arrangement; nobody carries this weight; hole in the weights
      bands/outside-rating: band is wider than the rating; heavier than the maker allows; restraint not rated for it
      bands/outside-service: band outside the service; heavier than we carry
      bands/overlap: bands overlap; two arrangements for one weight; same weight twice; my weights overlap; weights overlap; it says my weights overlap
      bands/step-never-applies: step is never done; step for nobody; step never applies
      bands/unclear: who owns the end; does not say who owns; who owns which end; band written with a dash; unclear limit; how to write a band
      parts/left-loose: something left aside; left lying; not put away; item left over at the end
      parts/no-home: no home; nowhere to put it back; home is full
      parts/not-enough: not enough pieces; too many taken; count does not add up; more pins than there are; too few
      parts/not-there: item is not there; taken from the wrong place; is somewhere else; not where the step says
      parts/place-in-use: place is full; no room; already something there; place occupied
      parts/stands-on: something stands on it; under something; take the upper part off first
      parts/unknown-start: arrangement cannot exist; more pieces than there are
      fastening/held: still locked; move something that is pinned; held in place; unlock first
      fastening/left-open: left open; not locked again; forgot to close; lever left up
      fastening/no-change: already locked; already open; turned twice; state does not change
      fastening/not-checked: nobody checks; critical step without a check; no check after a pin
      fastening/self-checked: checks own work; same person checks; second person must check
      plan/card-too-early: card is read too early; something moves after the card
      plan/no-way-back: no way back; cannot go back to standby
      plan/unreachable: no way from one arrangement to another; cannot be reached; no path; no changeover; stuck between arrangements
      plan/required-not-allowed: required option does not fit; compulsory option not allowed
      plan/silent-slip: nobody would notice; slip goes unnoticed; silent mistake
      plan/standing-unclear: two standing arrangements; no standing arrangement; which arrangement does it wait in
      load/no-mass: mass missing; weight of an item missing; no weight for an item
      load/out-of-balance: out of balance; centre of gravity; tips over; balance limit
      load/over-mass: too heavy; over the weight limit; overloaded; mass limit exceeded
      load/over-rating: fastening not strong enough; over its rating; too much force
      photo/low-resolution: photo too small; blurry photo; few pixels; poor quality picture
      photo/mark-outside: arrow outside the picture; mark cut off; number not visible
      photo/missing: photo missing; picture not found; no such photo
      photo/no-alt: description of a photo missing; alt text missing
      photo/none: step without a photo; step needs a picture; no picture
      photo/older-than-item: photo is old; photo older than the device; outdated picture
      photo/too-large: photo too big; file too large; picture too big; picture file too big; too many megabytes
      photo/unreadable: photo cannot be opened; wrong file type; heic
      photo/unused: photo not used; picture shown nowhere
      wording/band-differs: weight in the words is different from the band
      wording/count-differs: number in the text is different; says four and moves two
      wording/long-sentence: sentence too long; how long may a sentence be; too many words; shorter sentences
      wording/nothing-turned: says lock but nothing is turned; turn missing
      wording/other-name: wrong word for a thing; use our own word; other name
      wording/passive: passive voice; active voice; write as an order
      wording/side-without-viewpoint: left or right of whom; left and right
      wording/two-actions: two actions in one step; split a step; one action
      wording/vague: vague words; words to avoid; forbidden words; ensure; properly; make sure; checked is no answer; writing style; plain words
      wording/warning-after-step: warning after the step; warning in the wrong place; move a warning up
      wording/weight-in-text: weight written in a step; kilograms in the text
      record/date-order: dates in the wrong order; date before the last revision
      record/guard-lost: incident without a step; guard was removed; lost a safeguard
      record/safeguard-lost: removed a warning; removed a check; took out a hold; safety mark lost
      record/edition-not-raised: card changed without a new edition; edition not raised
      record/issue-altered: issued file was changed; frozen file edited
      record/issue-lost: issued file deleted; frozen file missing
      record/not-issued: approved but not issued; forgot to issue
      record/approval-altered: changed the approver; changed the owner after the issue; changed the review date
      record/no-authority: no source named; approval paper missing; no authority
      record/no-change-entry: change entry missing; forgot to write what changed
      record/out-of-date: expired; past its date; service is overdue
      record/review-overdue: review overdue; review date passed
      record/remark-open: remark not answered; open comment; approval refused
      record/remark-unknown-step: remark about a step that is gone
      record/revision-not-raised: edited without a new revision; forgot to raise the revision; changed an approved text; revision number not raised
      record/same-approver: approved by the author; approver and author are the same; approved my own change
      record/sign-offs-understated: sign-offs cannot stand; sign-off needed again
      record/withdrawn-included: includes a withdrawn procedure
      record/amendment-lapsed: amendment is over; old amendment still there
      record/amendment-too-long: amendment runs too long; more than ninety days
      record/amendment-unknown-revision: amendment for another revision; revision is not in force
      record/amendment-unknown-step: amendment replaces an unknown step
      card/does-not-fit: card too long; does not fit on the paper; card is too full; text too small; runs over
      card/contradiction: card says something untrue; card line contradicts; option makes a line wrong
      card/folder-stale: old card in a folder; card must be replaced; stale copy
      card/unknown-check: unknown check code; code belongs to no card; mistyped code
      card/not-looked-at: fastening not on the card; no line for it; card misses a check
    `,
  },
} as const;
