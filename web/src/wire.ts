// Written by `cargo xtask gen` from crates/loomwright/src/wire; changes made here are lost.

/** What something is about, so that one thing leads to another. */
export interface About {
  run: string | null;
  cable: string | null;
  /** "device.port". */
  port: string | null;
}

/** The program and the folder it has open. */
export interface AboutBench {
  program: string;
  version: string;
  folder: string;
  /** The id to open at once, where the folder is itself a build. */
  only: string | null;
  /** Units a document may say comes first: "metric", "us". */
  units: string[];
  /** How many rows the shelf has. */
  shelf_rows: number;
}

/** An indication by Arrhenius, not a promise. */
export interface Ageing {
  hours: number;
  service_hours: number;
  at_limit_hours: number;
  halves_k: number;
  over_the_duty: boolean;
}

export interface Along {
  /** The hottest cable from its first terminal to its last. */
  spots: Spot[];
  sections: Section[];
  /** At the first and the last terminal. */
  ends: EndHeat[];
  /** The steady conductor over the bounds of what is assumed. */
  band: Band;
  ratings: Rating[];
  to_limit: ToLimit;
  ageing: Ageing;
  made_w: number;
  into_ends_w: number;
}

/** The answer of a figure. */
export interface Answer {
  figure: string;
  given: Record<string, string>;
  result: Record<string, Found>;
  notes: string[];
  source: string;
}

/** Answers so far. */
export interface AnswersAsked {
  /** By the question's id. */
  answers: Record<string, string>;
}

export interface Assumed {
  what: string;
  value: string;
  why: string;
  /** What in the document would replace it. */
  key: string;
}

/** A place in the build document, counted from 1 in characters. */
export interface At {
  file: string;
  line: number;
  column: number;
  width: number;
}

export interface Band {
  low_c: number | null;
  high_c: number | null;
  /** At the hottest moment of duty or peak: low, as planned, high. */
  hottest_c: number[] | null;
  parts: Bound[];
}

export interface Bend {
  /** To the inside of the bend. */
  radius_mm: number;
  radius_mm_min: number;
  /** Stretch of the outside, as a part of one. */
  strain: number;
  /** From the hole's centre to where the bend begins. */
  from_hole_mm: number;
  /** What must stay flat about the hole, from its centre. */
  flat_mm: number;
  /** Height of the barrel's mouth above the landing face. */
  rise_mm: number;
}

export interface Block {
  material: string | null;
  bolt: string | null;
  bolt_count: number | null;
  torque_nm: number | null;
}

/** A book. */
export interface BookAsked {
  /** Its chapters; all where absent or empty. */
  parts?: string[] | null;
}

/** How far a book has come. */
export interface BookEvent {
  id: string;
  job: number;
  state: BookState;
  url: string | null;
  /** Why it failed. */
  error: string | null;
  took_ms: number;
  /** The version it is of. */
  version: number;
}

/** A book that was begun. */
export interface BookJob {
  job: number;
  url: string;
}

/** A chapter a book can be asked for. */
export interface BookPart {
  part: string;
  title: string;
}

/** The stages of a book. */
export type BookState = "setting" | "ready" | "failed";

export interface Bound {
  what: string;
  /** Its cooler end, then its hotter one. */
  between: string[];
  low_c: number | null;
  high_c: number | null;
}

export interface Branch {
  name: string;
  fuse: string | null;
  fuse_carries_a: number | null;
  cable: string | null;
  cable_rating_a: number | null;
  cable_withstand_a2s: number | null;
  coordination: Coordination | null;
}

export interface Build {
  title: string;
  /** SHA-256 of what the plan was made from. */
  digest: string;
  made_by: string | null;
  date: string | null;
  /** Which units are printed first: "metric" or "us". */
  units: string;
  currency: string | null;
  voltage_v: number | null;
  voltage_v_max: number | null;
  altitude_m: number;
  devices: Device[];
}

/** The builds of the folder and what a new one may start from. */
export interface Builds {
  folder: string;
  builds: Card[];
  examples: Example[];
}

export interface Cable {
  /** Its from-terminal. */
  id: string;
  from: string;
  to: string;
  conductor: string | null;
  cut_length_mm: number | null;
  /** From, then to. */
  ends: End[];
}

/** A build as a card on the first page. */
export interface Card {
  id: string;
  title: string;
  /** Absent while the document cannot be read. */
  verdict: Verdict | null;
  for_building: boolean;
  counts: Counts;
  /** Milliseconds since 1970. */
  changed_ms: number | null;
  /** Where its picture is; absent while the document cannot be read. */
  picture: string | null;
  /** Why it cannot be read. */
  error: string | null;
}

/** What became of a finding since the version before. */
export type Change = "same" | "new" | "worse" | "better" | "moved";

/** A change that has been made and saved. */
export interface Changed {
  id: string;
  version: number;
  /** Who changed it, as it called itself. */
  asker: string | null;
  /** What was done, as the history calls it. */
  label: string;
  /** The files whose text changed. */
  files: File[];
  undo: string | null;
  redo: string | null;
}

/** A choice. */
export interface Choice {
  word: string;
  means: string;
}

export interface Circuit {
  name: string;
  ohm_per_v: number;
  least_ohm: number;
  /** Whether it is the limit of the whole, everything joined. */
  governs: boolean;
}

/** Two versions of the files, and someone has to choose. */
export interface Conflict {
  /** The files as they are on the disk. */
  theirs: File[];
}

/** Which of two versions to keep. */
export interface ConflictAsked {
  keep: KeepAsked;
  /** How the tab calls itself. */
  asker?: string | null;
}

/** A conflict began, or is settled. */
export interface ConflictEvent {
  id: string;
  conflict: Conflict | null;
}

export interface Contactor {
  /** The one named. */
  part: string | null;
  /** Greatest current it has to open against. */
  must_break_a: number | null;
  /** Current it closes on. */
  must_make_a: number | null;
  breaks_a: number | null;
  makes_a: number | null;
}

/** Curves over each other; each point is amperes and seconds. */
export interface Coordination {
  fuse: string;
  rated_a: number;
  /** The fuse's mean melting curve. */
  melts: ([number, number])[];
  /** When the slowest fuse of its class has cleared. */
  clears: ([number, number])[];
  /** How long the cable bears a current; empty where its rating is not known. */
  cable_bears: ([number, number])[];
  /** Short circuits, the greatest first. */
  faults: Rise[];
  /** What the circuit carries, shortest first. */
  loads: Load[];
  trip_a: number | null;
  trip_s: number | null;
  /** The control as a line from above down to its time, then level to where the fuse is the faster. */
  trip: ([number, number])[];
  /** From this current on the fuse protects the cable. */
  guards_from_a: number | null;
  /** The fault at which the fuse is least ahead of the cable. */
  tightest: Tightest | null;
}

/** A corner of a closed outline and the segment that leaves it. */
export interface Corner {
  x_mm: number;
  y_mm: number;
  /** Tangent of a quarter of the leaving arc's angle, positive to the left; zero for a line. */
  bulge: number;
}

/** How many findings came out how. */
export interface Counts {
  fails: number;
  unknown: number;
  close: number;
  holds: number;
}

/** The drive that is repeated and the hard cases, with what the machine can give. */
export interface Course {
  stretches: Driven[];
  /** What the drive can give, from standstill to its greatest speed. */
  reach: Reach[];
  /** Phase current that motor and inverter allow. */
  current_a_rms_max: number | null;
}

/** A build with its texts. */
export interface Desk {
  id: string;
  version: number;
  /** The document first, then the shop's parts, then the face files. */
  files: File[];
  /** What an undo would take back. */
  undo: string | null;
  /** What a redo would do again. */
  redo: string | null;
  /** Why the last change is not on the disk. */
  unsaved: string | null;
  conflict: Conflict | null;
}

export interface Device {
  id: string;
  name: string;
  kind: string | null;
  ports: Port[];
}

export interface Discharge {
  resistance_ohm: number;
  time_constant_s: number;
  /** Heat in the resistor for as long as the pack is on. */
  power_w: number;
  /** Voltage that what is discharged may keep. */
  touch_v: number;
  /** Seconds and volts. */
  curve: ([number, number])[];
}

/** The document that answers make. */
export interface Draft {
  text: string;
  /** Questions without the answer they need. */
  open: string[];
  /** Answers that cannot be read. */
  errors: FigureError[];
}

export interface Driven {
  name: string;
  /** Repeated for ever, or once from warm. */
  repeats: boolean;
  duration_s: number;
  distance_m: number | null;
  /** Greatest of the stretch; absent where it is not known. */
  phase_a_rms_most: number | null;
  dc_a_most: number | null;
  frequency_hz_most: number | null;
  /** Force asked at the wheels, greatest. */
  force_n_most: number;
  torque_nm_most: number;
  /** Intervals in which less torque was given than asked. */
  missed: Missed[];
  /** Pairs of seconds and m/s; long series hold the least and the greatest value of each short while. */
  speed: ([number, number])[];
  /** Pairs of seconds and A rms. */
  phase: ([number, number])[];
  /** Pairs of seconds and A; negative while charging. */
  dc: ([number, number])[];
}

export interface Duty {
  /** Over the drive that is repeated, or the hard case that has most. */
  current_a_rms: number;
  /** At the lower edge of the band, where only the motor's nameplate is known. */
  current_a_rms_least: number;
  /** One frequency that stands for all, weighted by what it heats. */
  frequency_hz: number | null;
  /** Greatest rms over windows. */
  windows: Window[];
  /** The conductor at the hottest moment. */
  hottest_c: number | null;
  /** In which stretch of the duty. */
  hottest_in: string | null;
  /** When in it. */
  hottest_s: number | null;
  /** The drive that is repeated, then the hard cases. */
  stretches: Stretch[];
}

/** A key to set. */
export interface EditAsked {
  /** The document where absent. */
  file?: string | null;
  /** ["run", "phases", "length"]; a number counts in a list of tables, "+" adds one to it. */
  path: string[];
  /** Text, number, truth, list or table; null or absent takes the key away. */
  value?: unknown;
  /** With a number: it is written as text with this unit. */
  unit?: string | null;
}

export interface End {
  port: string;
  terminal: string;
  lug: string | null;
  /** "straight" or "bent". */
  palm: string;
  die: string | null;
  presses: number | null;
  strip_mm: number | null;
  sleeve: string | null;
  sleeve_length_mm: number | null;
  grip: string | null;
  grip_torque_nm: number | null;
  bolt: Stack | null;
  torque_nm: number | null;
  torque: Torque | null;
  /** What is left of the bolt's preload. */
  kept: Kept | null;
  /** How the palm is bent, where it is. */
  bend: Bend | null;
  /** How warm the lug becomes. */
  warm: Warm | null;
  /** How the screen ends, on a screened cable. */
  screen: Screen | null;
  /** What goes on the cable before the lug is crimped, in this order. */
  before_lug: string[];
}

export interface EndHeat {
  terminal_c: number | null;
  conductor_c: number;
}

/** Any answer that is no success. */
export interface Error {
  /** What is wrong. */
  error: string;
  /** What to do. */
  hint: string | null;
  /** Of a change made from a version that is no longer the newest: the newest. */
  version: number | null;
}

/** A build to start from. */
export interface Example {
  name: string;
  title: string;
  /** Its opening remark. */
  what: string;
}

/** A surveyed face, seen from outside, x to the right and y up. */
export interface Face {
  /** "device.port"; empty for a face file by itself. */
  port: string;
  title: string | null;
  /** Whether the readings agree as well as their deviations promise. */
  consistent: boolean;
  chi_square: number;
  /** What chi-square stays below in all but one of a thousand good surveys. */
  chi_square_limit: number | null;
  /** Readings more than needed. */
  redundancy: number;
  holes: Point[];
  terminals: Point[];
  corners: Point[];
  opening: Vertex[] | null;
  outline: Vertex[] | null;
  readings: Reading[];
  suspect: Suspect | null;
  /** Points and edges without a certain place. */
  loose: string[];
  /** What to read yet, best first. */
  missing: string[];
  photo: Photo | null;
  /** What could not be worked out, in words. */
  faults: string[];
}

/** A surveyed face and where its readings are written. */
export interface FaceSheet {
  face: Face;
  /** The file its readings stand in. */
  file: string;
  /** The table of the face in that file. */
  path: string[];
  /** Its drawing. */
  drawing: string | null;
  photo: PhotoPlace;
  /** Readings as written, in the order of `face.readings`. */
  readings: ReadingPlace[];
}

/** Surveyed faces. */
export interface Faces {
  version: number;
  faces: FaceSheet[];
}

export interface Fault {
  resistance_ohm: number;
  inductance_h: number;
  prospective_a: number;
  time_constant_s: number;
}

export interface FieldLack {
  run: string;
  what: string;
  hint: string;
}

/** What one run adds by one kind of current. */
export interface FieldPart {
  run: string;
  /** "phases", "phases at standstill", "direct current" or "ripple". */
  kind: string;
  /** From the point to the middle of the run's cables. */
  distance_mm: number;
  /** Between the axes of neighbouring cables. */
  spacing_mm: number;
  /** The moment that is worst against each set of levels. */
  worst: FieldWorst[];
}

/** A named point with what the runs do there. */
export interface FieldPoint {
  id: string;
  name: string;
  parts: FieldPart[];
  /** What is not known and would add something. */
  lacks: FieldLack[];
  /** All runs together, against each set of levels. */
  together: FieldSum[];
  /** Of what stands still, all runs together. */
  standing_ut: number;
  /** Over what implants are held to bear: 0.5 mT standing, 1999/519/EC alternating. */
  implants: number;
}

export interface FieldSum {
  /** "ICNIRP 2010" or "1999/519/EC". */
  levels: string;
  /** Fields that alternate, each part at its worst moment. */
  alternating_ut: number;
  /** Their shares of their levels, added. */
  alternating: number;
  /** What stands over its level. */
  standing: number;
}

export interface FieldWorst {
  /** "ICNIRP 2010" or "1999/519/EC". */
  levels: string;
  /** "continuous", "peak", "climb after 12 s". */
  when: string;
  current_a_rms: number;
  /** Zero where the field stands. */
  frequency_hz: number;
  field_ut: number;
  level_ut: number;
  /** Field over level. */
  share: number;
}

/** A calculator, for programs that offer it. */
export interface Figure {
  figure: string;
  purpose: string;
  inputs: Input[];
  outputs: Output[];
  /** Inputs that give an answer. */
  example: Record<string, string>;
  source: string;
}

/** An answer of a figure, or why there is none. */
export interface FigureAnswer {
  answer: Answer | null;
  errors: FigureError[];
}

/** Inputs of a figure. */
export interface FigureAsked {
  /** As text with units; lists as TOML. */
  given: Record<string, string>;
}

/** What is wrong with an input of a figure. */
export interface FigureError {
  input: string;
  message: string;
}

/** A text of a build. */
export interface File {
  name: string;
  role: Role;
  text: string;
  /** Whether there is such a file on the disk; the shop's parts are offered before there are any. */
  exists: boolean;
}

/** A file to fetch. */
export interface FileLink {
  name: string;
  url: string;
  /** What it is: "drawing", "DXF for cutting". */
  what: string;
}

/** One thing the plan tells the maker. */
export interface Finding {
  /** Kebab-case, never reused. */
  code: string;
  verdict: Verdict;
  message: string;
  /** The value judged, in `unit`. */
  value: number | null;
  /** The limit it is judged against, in `unit`. */
  limit: number | null;
  unit: string | null;
  hint: string | null;
  /** Key of the source of the rule. */
  source: string;
  /** An unknown here keeps the book from being built to. */
  safety: boolean;
  at: At | null;
  about: About;
}

/** One result of a figure. */
export interface Found {
  /** One number, or a list of them. */
  value: Numbers;
  unit: string;
}

/** A finding that is no more. */
export interface Gone {
  id: string;
  verdict: Verdict;
  message: string;
}

/** A grip and where it can be moved. */
export interface GripPlace {
  terminal: string;
  x_mm: number;
  y_mm: number;
  /** Across corners of its hexagon. */
  corners_mm: number | null;
  thread_mm: number | null;
  /** Whether the document says where; else it went to its terminal. */
  stated: boolean;
  /** The key to set to "x mm, y mm". */
  path: string[];
}

/** A groove by its middle line. */
export interface Groove {
  middle: Corner[];
  width_mm: number;
  depth_mm: number;
}

export interface Heat {
  /** The hottest cable. */
  cable: string;
  air_c: number;
  limit_c: number;
  current_a_rms: number;
  conductor_c: number | null;
  surface_c: number | null;
  ac_ratio: number;
  loss_w_per_m: number;
  rating_a: number;
  peak: Peak | null;
  /** Pairs of seconds and degC, from the air's temperature to steady state. */
  warming: ([number, number])[];
  /** Along the run; absent where it never settles. */
  along: Along | null;
}

/** The first event of a stream. */
export interface Hello {
  version: string;
  /** Another number after a restart: what a page holds may be old. */
  start: number;
}

/** A row of the shelf. */
export interface Hit {
  kind: string;
  id: string;
  name: string;
  /** Its values in one line. */
  text: string;
  standing: string;
  source: string;
  note: string | null;
  price: number | null;
}

/** A round hole in a plate. */
export interface Hole {
  name: string;
  x_mm: number;
  y_mm: number;
  diameter_mm: number;
}

export interface Input {
  name: string;
  needed: boolean;
  default: string | null;
  what: string;
}

export interface Item {
  part: string;
  name: string;
  kind: string;
  /** Pieces used, without spares. */
  count: number;
  spares: number;
  length_mm: number | null;
  uses: Use[];
  price: number | null;
  cost: number | null;
  mass_g: number | null;
  standing: string;
  source: string;
}

/** The bench's files, or those on the disk. */
export type KeepAsked = "ours" | "theirs";

export interface Kept {
  /** At the torque and the shop's friction. */
  assembled_n: number;
  /** The least that one setting of the wrench leaves. */
  scatter_n: number;
  /** That, after settling. */
  settled_n: number;
  /** That, at the coldest. */
  cold_n: number;
  /** That, at the hottest. */
  hot_n: number | null;
  /** The most that one setting leaves, unsettled, at the hottest. */
  most_n: number;
  /** Contact force wanted. */
  wanted_n: number;
  cold_c: number | null;
  hot_c: number | null;
}

/** A key of the document. */
export interface Key {
  name: string;
  what: string;
  /** As written in TOML. */
  example: string;
  /** What may stand after it, in words. */
  accepts: string;
  /** The words it takes, if it takes only these. */
  words: string[];
  /** The units it takes, if it is a quantity. */
  units: string[];
  /** The kind of shelf row it names, if it does. */
  shelf: string | null;
}

export interface Kit {
  items: Item[];
  cuts: Reel[];
  /** Of everything that has a price, in the build's currency. */
  cost: number;
  unpriced: number;
  mass_kg: number;
}

/** A value of the document that can be moved by a slider. */
export interface Knob {
  /** Stays the same over versions. */
  id: string;
  /** "air along the run" */
  what: string;
  /** Where a change goes: the file, the document where absent, and the key. */
  file: string | null;
  path: string[];
  run: string | null;
  /** Now, in `unit`; absent where the document says nothing and nothing was assumed. */
  value: number | null;
  /** The value as a person reads it. */
  text: string | null;
  /** The unit to send with a new value; absent for a plain number. */
  unit: string | null;
  /** Ends of the slider, in `unit`. */
  least: number;
  most: number;
  step: number;
  /** Whether the document says it; else it was assumed. */
  stated: boolean;
  /** Why it was assumed so. */
  why: string | null;
}

/** What can be moved by a slider. */
export interface Knobs {
  version: number;
  knobs: Knob[];
}

export interface Known {
  name: string;
  residual_px: number;
  residual_mm: number;
}

export interface Load {
  seconds: number;
  rms_a: number;
  /** What the fuse bears so long, again and again, where it sits. */
  may_a: number | null;
  /** Where in the duty it was found. */
  stretch: string | null;
}

/** A build that was made. */
export interface Made {
  id: string;
}

/** A measure along a strip. */
export interface Measure {
  from_mm: number;
  to_mm: number;
  text: string;
  /** The key that states it, if one does. */
  path: string[] | null;
}

export interface Missed {
  time_s: number;
  speed_rpm: number;
  asked_nm: number;
  left_nm: number;
  /** "the voltage", "the current limit" or "the battery". */
  by: string;
}

/** Where a document cannot be read. */
export interface Mistake {
  at: At;
  message: string;
  hint: string | null;
}

/** A new build. */
export interface NewBuildAsked {
  /** Name of its folder: letters, digits, - and _. */
  name: string;
  /** The example to copy. */
  example?: string | null;
  /** Answers to the first questions. With neither, the commented starter is written. */
  answers?: Record<string, string> | null;
}

/** A finding, which one it is, and what became of it since the version before. */
export interface Notice {
  /** The same for the same finding in the next version. */
  id: string;
  change: Change;
  /** Value and limit as a person reads them. */
  value_text: string | null;
  limit_text: string | null;
  /** How the numbers came about: indices into the plan's `worked`. */
  workings: number[];
  /** What its source is, in words. */
  source_text: string;
  /** Kebab-case, never reused. */
  code: string;
  verdict: Verdict;
  message: string;
  /** The value judged, in `unit`. */
  value: number | null;
  /** The limit it is judged against, in `unit`. */
  limit: number | null;
  unit: string | null;
  hint: string | null;
  /** Key of the source of the rule. */
  source: string;
  /** An unknown here keeps the book from being built to. */
  safety: boolean;
  at: At | null;
  about: About;
}

export type Numbers = number | number[];

/** When a question is asked. */
export interface OnlyIf {
  question: string;
  is: string[];
}

export interface Output {
  name: string;
  unit: string;
  what: string;
}

/** A file was changed outside and taken in. */
export interface Outside {
  id: string;
  version: number;
  files: string[];
}

export interface Pass {
  from: string;
  to: string;
  because: string;
}

export interface Peak {
  current_a_rms: number;
  seconds: number;
  conductor_c: number;
  to_limit_s: number | null;
  /** Pairs of seconds and degC from the start of the peak. */
  curve: ([number, number])[];
}

export interface Photo {
  known: Known[];
  redundancy: number;
  rms_px: number;
  rms_mm: number;
}

/** A point clicked in a photograph. */
export interface PhotoClick {
  name: string;
  x_px: number;
  y_px: number;
  /** Where it lies on the face, if that is stated. */
  known_mm: [number, number] | null;
}

/** The photograph of a face. */
export interface PhotoPlace {
  /** Where it can be seen, if there is one. */
  url: string | null;
  /** The name to give one, before ".jpg" or ".png". */
  name: string;
  /** The table its points are written in: PATH.point.NAME.pixel = [x, y], PATH.size = [width, height]. */
  path: string[];
  size_px: [number, number] | null;
  points: PhotoClick[];
}

export interface Piece {
  name: string;
  /** Where it begins on the reel. */
  from_mm: number;
  length_mm: number;
}

/** The whole plan: `loomwright plan --json`. */
export interface Plan {
  /** What was planned. */
  build: Build;
  /** The worst verdict among the findings. */
  verdict: Verdict;
  /** Whether the book may be built to: nothing fails, and nothing that hurts is unknown. */
  for_building: boolean;
  /** Findings, worst first. */
  findings: Finding[];
  /** What the build left out and the program filled in. */
  assumed: Assumed[];
  /** Runs in the order of the document. */
  runs: Run[];
  /** Protection of the DC side. */
  protection: Protection | null;
  /** How the vehicle is driven, where the build says. */
  duty: Course | null;
  /** Magnetic field at the points named, beside the published reference levels. */
  field: FieldPoint[];
  /** Surveyed faces, one a port that has one. */
  faces: Face[];
  /** Entry plates. */
  plates: Plate[];
  /** What is bought, made and packed. */
  kit: Kit;
  /** What the assembler does, in order. */
  steps: Step[];
  /** Tests of the made-up cabling. */
  trials: Trial[];
  /** How the numbers came about. */
  worked: Worked[];
  /** What the source keys stand for. */
  sources: Source[];
}

/** The whole plan of a version. */
export interface PlanSheet {
  version: number;
  /** The version the plan is of. */
  of: number | null;
  plan: Plan | null;
}

/** What a version came to. */
export interface Planned {
  id: string;
  version: number;
  /** The version the findings are of; an older one while the newest cannot be read. */
  of: number | null;
  /** Whether `of` is not `version`. */
  stale: boolean;
  title: string;
  verdict: Verdict | null;
  for_building: boolean;
  counts: Counts;
  /** Worst first. */
  findings: Notice[];
  /** Findings of the version before that are no more. */
  gone: Gone[];
  /** Why the newest version cannot be read. */
  errors: Mistake[];
  /** A fault of the program met while planning. */
  fault: string | null;
  /** Time spent planning. */
  took_ms: number;
}

export interface Plate {
  port: string;
  /** Id of the kept plate it is, where the build names one. */
  kept: string | null;
  material: string | null;
  thickness_mm: number | null;
  grips: PlateGrip[];
  grip_pitch_mm: number | null;
  grip_hole: string | null;
  bolt_count: number | null;
  bolt: Stack | null;
  torque_nm: number | null;
  torque: Torque | null;
  seal: Seal | null;
  block: Block | null;
}

export interface PlateGrip {
  run: string;
  cable: string;
  grip: string;
}

/** The plate of a port. */
export interface PlateSheet {
  /** "device.port". */
  port: string;
  /** Why it is not laid out. */
  absent: string | null;
  /** What is broken, so that it is not for cutting. */
  refused: boolean;
  thickness_mm: number | null;
  /** Its edge, seen from outside. */
  outline: Corner[];
  holes: Hole[];
  groove: Groove | null;
  grips: GripPlace[];
  /** Every distance that matters, tightest first. */
  proofs: Proof[];
  /** The face under it. */
  face: Face | null;
  /** Files for the machinist: the plate's, then its block's. */
  files: FileLink[];
}

/** Plates and blocks. */
export interface Plates {
  version: number;
  plates: PlateSheet[];
}

export interface Point {
  name: string;
  x_mm: number;
  y_mm: number;
  diameter_mm: number | null;
  /** Standard deviation along the worst direction; none where the place was stated. */
  sigma_mm: number | null;
}

export interface Port {
  /** "device.port". */
  id: string;
  terminals: string[];
}

export interface Precharge {
  resistance_ohm: number;
  capacitance_f: number;
  /** What it is charged from. */
  voltage_v: number;
  energy_j: number;
  peak_w: number;
  peak_a: number;
  time_constant_s: number;
  close_s: number;
  left_v: number;
  /** Of what is left, what stands for ever beside the discharge resistor. */
  standing_v: number;
  /** Seconds and volts. */
  curve: ([number, number])[];
}

/** A distance measured on the finished part. */
export interface Proof {
  rule: string;
  what: string;
  value_mm: number;
  least_mm: number;
  holds: boolean;
}

export interface Protection {
  run: string;
  fuse: string | null;
  fuse_carries_a: number | null;
  fuse_ambient_factor: number | null;
  current_a: number | null;
  /** Short circuit right behind the fuse. */
  fault_near: Fault | null;
  /** Short circuit at the far end of the run. */
  fault: Fault | null;
  cable_withstand_a2s: number | null;
  precharge: Precharge | null;
  discharge_s: number | null;
  discharge: Discharge | null;
  isolation_ohm: number | null;
  /** Circuits and the least insulation of each to the chassis. */
  circuits: Circuit[];
  y_energy_j: number | null;
  /** Fuse, cable, fault and load laid over each other. */
  coordination: Coordination | null;
  contactor: Contactor;
  /** Further fused circuits. */
  branches: Branch[];
}

/** A question about a new build. */
export interface Question {
  id: string;
  ask: string;
  /** What it settles. */
  why: string;
  kind: QuestionKind;
  /** For a choice: the words and what they mean. */
  choices: Choice[];
  /** An answer to begin from. */
  example: string;
  /** Whether the document cannot be made without it. */
  needed: boolean;
  /** Asked only where that question has one of these answers. */
  only_if: OnlyIf | null;
}

/** What kind of answer a question takes. */
export type QuestionKind = "choice" | "words" | "quantity";

export interface Rating {
  /** Absent for ever. */
  seconds: number | null;
  cold_a: number | null;
  warm_a: number | null;
}

export interface Reach {
  speed_rpm: number;
  torque_nm_most: number;
  torque_nm_least: number;
}

export interface Reading {
  what: string;
  value_mm: number;
  sigma_mm: number;
  residual_mm: number;
  /** The residual over its own standard deviation; none where nothing checks the reading. */
  normalised: number | null;
}

/** Where a reading is written. */
export interface ReadingPlace {
  at: At | null;
  /** The key of its value, in the file of the face. */
  path: string[];
  text: string;
}

export interface Reel {
  cable: string;
  reel_mm: number;
  pieces: Piece[];
  left_mm: number;
}

export interface Rise {
  place: string;
  prospective_a: number;
  /** Amperes and seconds. */
  points: ([number, number])[];
  /** Amperes reached when the fuse melts. */
  let_through_a: number | null;
  melts_s: number | null;
}

/** What a file is to its build. */
export type Role = "document" | "shop" | "face";

export type Rule = "at_most" | "at_least" | "between" | "seen" | "unknown";

export interface Run {
  id: string;
  /** "device.port" at both ends. */
  from: string;
  to: string;
  /** "phases" or "dc". */
  carries: string;
  lie: string;
  /** Shelf id of the cable. */
  cable: string | null;
  path_mm: number | null;
  /** From lug hole to lug hole when made up. */
  made_length_mm: number | null;
  cables: Cable[];
  /** What the duty puts through one cable, where the run states no current. */
  duty: Duty | null;
  heat: Heat | null;
  drop_v: number | null;
  loss_w: number | null;
  settle_trail: Pass[];
}

export interface Screen {
  /** "grip-contact", "pigtail" or "none". */
  how: string | null;
  /** Sheath to take off. */
  sheath_mm: number | null;
  /** Screen that stays beyond the sheath. */
  screen_mm: number;
  /** Core that stays between screen and bare conductor. */
  core_mm: number | null;
  core_mm_min: number;
  /** Sleeve over the screen's cut edge. */
  cover: string | null;
  cover_length_mm: number | null;
  /** Thread the pigtail's lug lands on. */
  bolt: string | null;
}

export interface Seal {
  oring: string;
  groove_depth_mm: number;
  groove_width_mm: number;
  groove_inside_mm: number;
  groove_tolerance_mm: number;
  /** Least, nominal, most, as parts of the section. */
  squeeze: [number, number, number];
  /** Nominal, most. */
  fill: [number, number];
  stretch: number;
  load_n_per_mm: number;
  load_n: number;
}

export interface Section {
  name: string;
  from_m: number;
  to_m: number;
  steady_c: number;
  at_m: number;
  cable: string;
}

/** Keys to set. */
export interface SetAsked {
  edits: EditAsked[];
  /** What to call it in the history. */
  label?: string | null;
  /** Changes of the same name in a row are one step of undo. */
  gather?: string | null;
  /** How the tab calls itself. */
  asker?: string | null;
}

/** One shape of a strip. */
export interface Shape {
  /** Unique in the strip, and the same in the next version: "from/U/bolt". */
  id: string;
  kind: ShapeKind;
  /** For a pointer that rests on it: "lug 2/0 AWG, M8, bent". */
  text: string;
  /** Its closed outline. */
  outline: ([number, number])[];
  about: About;
  /** Ids of the findings it is meant by. */
  findings: string[];
}

/** What a shape is. */
export type ShapeKind = "box" | "terminal" | "cable" | "conductor" | "lug" | "bolt" | "washer" | "sleeve" | "plate" | "groove" | "grip" | "clip";

/** A kind of part the shop can add. */
export interface ShelfKind {
  kind: string;
  fields: string[];
}

/** A part the shop wants to add, judged. */
export interface Shop {
  /** Whether it was added. */
  added: boolean;
  /** What is wrong with it. */
  errors: Mistake[];
  /** The text that was added, or would be. */
  text: string;
  version: number;
}

/** A part for the shop's shelf. */
export interface ShopAsked {
  /** "lug", "cable", ... */
  kind: string;
  /** By the names of the kind's fields. */
  fields: Record<string, unknown>;
  /** Only judge it. */
  only_check?: boolean | null;
  /** How the tab calls itself. */
  asker?: string | null;
}

/** A unit for an axis: shown value = kept value x factor + offset. */
export interface ShownUnit {
  unit: string;
  factor: number;
  offset: number;
  decimals: number;
}

export interface Source {
  key: string;
  title: string;
  seen: string;
}

export interface Spot {
  at_m: number;
  steady_c: number;
  /** At the hottest moment of duty or peak. */
  hottest_c: number | null;
  low_c: number | null;
  high_c: number | null;
}

export interface Stack {
  /** "hex M8x16", or "nut M8" on a stud. */
  name: string;
  /** "bolt", or "stud" with its nut. */
  kind: string;
  class: string;
  /** Of the bolt under its head, or of the stud above the landing face. */
  length_mm: number;
  flats_mm: number | null;
  washer: string | null;
  clamped_mm: number;
  engagement_mm: number;
  engagement_mm_min: number;
  /** Thread left under the bolt's tip, negative when it bottoms; on a stud, thread standing out of the nut. */
  left_mm: number;
}

export interface Step {
  id: string;
  title: string;
  text: string[];
  place: string;
  about: About;
  parts: StepPart[];
  tools: string[];
  torque_nm: number | null;
  /** Ids of steps that must be done before. */
  after: string[];
  why: string | null;
  caution: string | null;
}

/** A step back or forth. */
export interface StepAsked {
  /** How the tab calls itself. */
  asker?: string | null;
}

export interface StepPart {
  part: string;
  count: number;
}

export interface Stretch {
  name: string;
  /** Repeated for ever, or once from warm. */
  repeats: boolean;
  /** Pairs of seconds and the conductor's degC. */
  conductor: ([number, number])[];
}

/** A run laid out straight. x runs from the first terminal's hole to the last's; y is up, and zero on the middle cable. */
export interface Strip {
  run: string;
  carries: string;
  /** "device.port" at both ends. */
  from: string;
  to: string;
  from_name: string;
  to_name: string;
  /** Why it cannot be laid out to scale; it is then drawn with an invented length. */
  unknown: string | null;
  /** From hole to hole. */
  length_mm: number;
  /** The two sealing faces. */
  faces_mm: [number, number];
  /** Lowest and highest of all shapes. */
  y_mm: [number, number];
  cut_mm: number | null;
  /** "3 x 2/0 AWG" */
  cable: string | null;
  /** What is drawn, back to front. */
  shapes: Shape[];
  heat: StripHeat | null;
  sections: StripSection[];
  /** Measures to draw below, outermost last. */
  measures: Measure[];
  /** The line of the run in the document. */
  at: At | null;
}

/** Temperature along a strip. */
export interface StripHeat {
  /** The cable that is hottest. */
  cable: string;
  spots: StripSpot[];
  limit_c: number;
  air_c: number;
  /** Lowest and highest of all that is to be drawn. */
  range_c: [number, number];
  /** Hottest place, steady, and what it leaves to the limit. */
  hottest_mm: number | null;
  margin_k: number | null;
  margin_text: string | null;
}

/** A section of surroundings. */
export interface StripSection {
  name: string;
  from_mm: number;
  to_mm: number;
  /** Hottest steady conductor in it. */
  steady_c: number | null;
  text: string;
}

/** Temperature at one place. */
export interface StripSpot {
  x_mm: number;
  steady_c: number;
  /** At the hottest moment of duty or peak. */
  hottest_c: number | null;
  low_c: number | null;
  high_c: number | null;
}

/** Every run of a version, laid out straight. */
export interface Strips {
  version: number;
  /** The version the strips are of. */
  of: number | null;
  strips: Strip[];
}

export interface Suspect {
  /** Index of the reading. */
  reading: number;
  what: string;
  should_mm: number;
  should_sigma_mm: number;
  /** Indices of readings that are as good a guess. */
  alike: number[];
  /** Whether the others agree once it is left out. */
  cures: boolean;
}

/** A figure's outputs over one input. */
export interface Sweep {
  input: string;
  unit: string;
  at: number[];
  /** Outputs that are one number; null where there is no answer. */
  outputs: Swept[];
  errors: FigureError[];
}

/** A figure over one input. */
export interface SweepAsked {
  /** As text with units. */
  given: Record<string, string>;
  /** The input that is swept. */
  input: string;
  /** From, as text with its unit; half the given value where absent. */
  from?: string | null;
  /** To, as text with its unit; twice the given value where absent. */
  to?: string | null;
  /** How many answers, at most 200. */
  count?: number | null;
}

/** One output over one input. */
export interface Swept {
  name: string;
  unit: string;
  values: (number | null)[];
}

/** A table of the document and its keys. */
export interface Table {
  /** Its header, ids in capitals: "device.ID.port.ID"; empty for the top of the document. */
  path: string;
  what: string;
  keys: Key[];
  /** Names of the tables that may stand in it. */
  inner: string[];
}

/** Another text of a file. */
export interface TextAsked {
  /** The version it was made from. */
  base: number;
  /** The document where absent. */
  file?: string | null;
  text: string;
  /** What to call it in the history. */
  label?: string | null;
  /** Changes of the same name in a row are one step of undo. */
  gather?: string | null;
  /** How the tab calls itself. */
  asker?: string | null;
}

export interface Tightest {
  current_a: number;
  /** None: it may never clear. */
  clears_s: number | null;
  /** None: for ever. */
  bears_s: number | null;
}

export interface ToLimit {
  current_a: number;
  cold_s: number | null;
  warm_s: number | null;
}

export interface Torque {
  torque_nm: number;
  preload_n: number;
  governed_by: string;
  limits: TorqueLimit[];
}

export interface TorqueLimit {
  what: string;
  torque_nm: number;
  source: string;
}

export interface Trial {
  id: string;
  what: string;
  when: When;
  about: About;
  /** How the reading is judged. */
  rule: Rule;
  /** The limit, in `unit`; the lower one of two. */
  limit: number | null;
  /** The upper one of two limits, in `unit`. */
  limit_upper: number | null;
  unit: string | null;
  /** What is to be seen, or what is unknown, where there is no number. */
  words: string | null;
  connect: string;
  source: string;
  caution: string | null;
}

/** How the numbers of a plan are shown. */
export interface Unit {
  /** The unit the plan's numbers are kept in, as their keys and `unit` fields call it. */
  kept: string;
  /** "a length" */
  called: string;
  metric: ShownUnit;
  us: ShownUnit;
}

/** A change could not be written. */
export interface Unsaved {
  id: string;
  version: number;
  why: string;
}

export interface Use {
  where: string;
  count: number;
}

/** How a check came out. */
export type Verdict = "fails" | "unknown" | "close" | "holds";

/** A corner of an outline and the segment that leaves it. */
export interface Vertex {
  x_mm: number;
  y_mm: number;
  /** Tangent of a quarter of the leaving arc's angle, positive to the left; zero for a line. */
  bulge: number;
}

export interface Warm {
  lug_c: number;
  /** How much warmer than the cable's middle. */
  rise_k: number;
  /** What the joint has over the cable it takes the place of. */
  joint_ohm: number;
  loss_w: number;
}

/** What would come of a changed copy. */
export interface WhatIf {
  /** The version it was changed from. */
  version: number;
  verdict: Verdict | null;
  counts: Counts;
  /** Against the version it was changed from. */
  findings: Notice[];
  gone: Gone[];
  /** Why the changed copy cannot be read. */
  errors: Mistake[];
  plan: Plan | null;
  strips: Strips | null;
  took_ms: number;
}

/** A changed copy to plan. */
export interface WhatIfAsked {
  edits: EditAsked[];
  /** How the tab calls itself. */
  asker?: string | null;
  /** Grows with each question of the same asker. */
  turn?: number | null;
  /** Leave the whole plan out of the answer. */
  brief?: boolean | null;
}

export type When = "bench" | "laid" | "fitted" | "first_power" | "first_drive";

export interface Window {
  seconds: number;
  current_a_rms: number;
  stretch: string;
  begins_s: number;
}

export interface Worked {
  what: string;
  about: About;
  value: number;
  unit: string;
  law: string;
  inputs: WorkedInput[];
  source: string;
}

export interface WorkedInput {
  name: string;
  value: number;
  unit: string;
}

/** Every call: what it takes and what it gives. */
export interface Calls {
  /** The program and the folder it has open. */
  "GET /api/about": { asks: null; answers: AboutBench };
  /** What happens, as a stream. */
  "GET /api/events": { asks: null; answers: Blob };
  /** This interface. */
  "GET /api/openapi.json": { asks: null; answers: Blob };
  /** Builds of the folder, and examples. */
  "GET /api/builds": { asks: null; answers: Builds };
  /** Make a build. */
  "POST /api/builds": { asks: NewBuildAsked; answers: Made };
  /** The first questions of a new build. */
  "GET /api/questions": { asks: null; answers: Question[] };
  /** The document that answers make. */
  "POST /api/questions": { asks: AnswersAsked; answers: Draft };
  /** A build with its texts. */
  "GET /api/builds/{id}": { asks: null; answers: Desk };
  /** A small picture. */
  "GET /api/builds/{id}/picture.svg": { asks: null; answers: Blob };
  /** What the newest version came to. */
  "GET /api/builds/{id}/planned": { asks: null; answers: Planned };
  /** The whole plan. */
  "GET /api/builds/{id}/plan": { asks: null; answers: PlanSheet };
  /** Every run laid straight. */
  "GET /api/builds/{id}/strips": { asks: null; answers: Strips };
  /** What a slider can move. */
  "GET /api/builds/{id}/knobs": { asks: null; answers: Knobs };
  /** Replace a text. */
  "POST /api/builds/{id}/text": { asks: TextAsked; answers: Changed };
  /** Set or remove keys. */
  "POST /api/builds/{id}/set": { asks: SetAsked; answers: Changed };
  /** A step back. */
  "POST /api/builds/{id}/undo": { asks: StepAsked; answers: Changed };
  /** A step forth. */
  "POST /api/builds/{id}/redo": { asks: StepAsked; answers: Changed };
  /** Choose between two versions. */
  "POST /api/builds/{id}/conflict": { asks: ConflictAsked; answers: Changed };
  /** Plan a changed copy. */
  "POST /api/builds/{id}/what-if": { asks: WhatIfAsked; answers: WhatIf };
  /** Add a part to the shop's shelf. */
  "POST /api/builds/{id}/shop": { asks: ShopAsked; answers: Shop };
  /** An end as bodies (from.glb, to.glb) or as a section (from.svg, to.svg). */
  "GET /api/builds/{id}/ends/{run}/{cable}/{side}": { asks: null; answers: Blob };
  /** Plates and blocks. */
  "GET /api/builds/{id}/plates": { asks: null; answers: Plates };
  /** A file for the machinist, or a table or labels of the kit. */
  "GET /api/builds/{id}/files/{name}": { asks: null; answers: Blob };
  /** A drawing of the book. */
  "GET /api/builds/{id}/drawings/{name}": { asks: null; answers: Blob };
  /** Surveyed faces. */
  "GET /api/builds/{id}/faces": { asks: null; answers: Faces };
  /** A photograph. */
  "GET /api/builds/{id}/photos/{name}": { asks: null; answers: Blob };
  /** Put a photograph into the folder. */
  "POST /api/builds/{id}/photos/{name}": { asks: Blob; answers: null };
  /** Begin to set a book. */
  "POST /api/builds/{id}/book": { asks: BookAsked; answers: BookJob };
  /** A book that is ready (JOB.pdf). */
  "GET /api/builds/{id}/book/{job}": { asks: null; answers: Blob };
  /** How numbers are shown on an axis. */
  "GET /api/units": { asks: null; answers: Unit[] };
  /** Every key of the document. */
  "GET /api/keys": { asks: null; answers: Table[] };
  /** Chapters of the book. */
  "GET /api/book-parts": { asks: null; answers: BookPart[] };
  /** Every calculator. */
  "GET /api/figures": { asks: null; answers: Figure[] };
  /** Work one out. */
  "POST /api/figures/{name}": { asks: FigureAsked; answers: FigureAnswer };
  /** Its outputs over one input. */
  "POST /api/figures/{name}/sweep": { asks: SweepAsked; answers: Sweep };
  /** Look for parts: ?words=, ?kind=. */
  "GET /api/shelf": { asks: null; answers: Hit[] };
  /** Kinds of part the shop can add. */
  "GET /api/shelf/kinds": { asks: null; answers: ShelfKind[] };
}
