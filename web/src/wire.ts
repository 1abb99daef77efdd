// Provisional.
export interface Plan {
  build: Build;
  verdict: Verdict;
  for_building: boolean;
  findings: Finding[];
  assumed: Assumed[];
  runs: Run[];
  protection: Protection | null;
  faces: Face[];
  plates: Plate[];
  kit: Kit;
  steps: Step[];
  trials: Trial[];
  worked: Worked[];
  sources: Source[];
}
export interface Build {
  title: string;
  digest: string;
  made_by: string | null;
  date: string | null;
  units: string;
  currency: string | null;
  voltage_v: number | null;
  voltage_v_max: number | null;
  altitude_m: number;
  devices: Device[];
}
export interface Device {
  id: string;
  name: string;
  kind: string | null;
  ports: Port[];
}
export interface Port {
  id: string;
  terminals: string[];
}
export interface Finding {
  code: string;
  verdict: Verdict;
  message: string;
  value: number | null;
  limit: number | null;
  unit: string | null;
  hint: string | null;
  source: string;
  safety: boolean;
  at: At | null;
  about: About;
}
export interface At {
  file: string;
  line: number;
  column: number;
  width: number;
}
export interface About {
  run: string | null;
  cable: string | null;
  port: string | null;
}
export interface Assumed {
  what: string;
  value: string;
  why: string;
  key: string;
}
export interface Run {
  id: string;
  from: string;
  to: string;
  carries: string;
  lie: string;
  cable: string | null;
  path_mm: number | null;
  made_length_mm: number | null;
  cables: Cable[];
  duty: Duty | null;
  heat: Heat | null;
  drop_v: number | null;
  loss_w: number | null;
  settle_trail: Pass[];
}
export interface Cable {
  id: string;
  from: string;
  to: string;
  conductor: string | null;
  cut_length_mm: number | null;
  ends: End[];
}
export interface Duty {
  current_a_rms: number;
  current_a_rms_least: number;
  frequency_hz: number | null;
  windows: Window[];
  hottest_c: number | null;
  hottest_in: string | null;
  hottest_s: number | null;
  stretches: Stretch[];
}
export interface Window {
  seconds: number;
  current_a_rms: number;
  stretch: string;
  begins_s: number;
}
export interface Stretch {
  name: string;
  repeats: boolean;
  conductor: ([number, number])[];
}
export interface Heat {
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
  warming: ([number, number])[];
  along: Along | null;
}
export interface Along {
  spots: Spot[];
  sections: Section[];
  ends: EndHeat[];
  band: Band;
  ratings: Rating[];
  to_limit: ToLimit;
  ageing: Ageing;
  made_w: number;
  into_ends_w: number;
}
export interface Spot {
  at_m: number;
  steady_c: number;
  hottest_c: number | null;
  low_c: number | null;
  high_c: number | null;
}
export interface Section {
  name: string;
  from_m: number;
  to_m: number;
  steady_c: number;
  at_m: number;
  cable: string;
}
export interface EndHeat {
  terminal_c: number | null;
  conductor_c: number;
}
export interface Band {
  low_c: number | null;
  high_c: number | null;
  parts: Bound[];
}
export interface Bound {
  what: string;
  between: string[];
  low_c: number | null;
  high_c: number | null;
}
export interface Rating {
  seconds: number | null;
  cold_a: number | null;
  warm_a: number | null;
}
export interface ToLimit {
  current_a: number;
  cold_s: number | null;
  warm_s: number | null;
}
export interface Ageing {
  hours: number;
  service_hours: number;
  at_limit_hours: number;
  halves_k: number;
  over_the_duty: boolean;
}
export interface Peak {
  current_a_rms: number;
  seconds: number;
  conductor_c: number;
  to_limit_s: number | null;
  curve: ([number, number])[];
}
export interface Pass {
  from: string;
  to: string;
  because: string;
}
export interface Protection {
  run: string;
  fuse: string | null;
  fuse_carries_a: number | null;
  fuse_ambient_factor: number | null;
  current_a: number | null;
  fault_near: Fault | null;
  fault: Fault | null;
  cable_withstand_a2s: number | null;
  precharge: Precharge | null;
  discharge_s: number | null;
  isolation_ohm: number | null;
  y_energy_j: number | null;
}
export interface Fault {
  resistance_ohm: number;
  inductance_h: number;
  prospective_a: number;
  time_constant_s: number;
}
export interface Precharge {
  resistance_ohm: number;
  capacitance_f: number;
  energy_j: number;
  peak_w: number;
  peak_a: number;
  time_constant_s: number;
  close_s: number;
  left_v: number;
  curve: ([number, number])[];
}
export interface Plate {
  port: string;
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
export interface Seal {
  oring: string;
  groove_depth_mm: number;
  groove_width_mm: number;
  groove_inside_mm: number;
  groove_tolerance_mm: number;
  squeeze: [number, number, number];
  fill: [number, number];
  stretch: number;
  load_n_per_mm: number;
  load_n: number;
}
export interface Block {
  material: string | null;
  bolt: string | null;
  bolt_count: number | null;
  torque_nm: number | null;
}
export interface Kit {
  items: Item[];
  cuts: Reel[];
  cost: number;
  unpriced: number;
  mass_kg: number;
}
export interface Item {
  part: string;
  name: string;
  kind: string;
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
export interface Use {
  where: string;
  count: number;
}
export interface Reel {
  cable: string;
  reel_mm: number;
  pieces: Piece[];
  left_mm: number;
}
export interface Piece {
  name: string;
  length_mm: number;
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
  after: string[];
  why: string | null;
  caution: string | null;
}
export interface StepPart {
  part: string;
  count: number;
}
export interface Trial {
  id: string;
  what: string;
  when: When;
  about: About;
  rule: Rule;
  limit: number | null;
  limit_upper: number | null;
  unit: string | null;
  words: string | null;
  connect: string;
  source: string;
  caution: string | null;
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
export interface Source {
  key: string;
  title: string;
  seen: string;
}
export interface Answer {
  figure: string;
  given: Record<string, unknown>;
  result: Record<string, unknown>;
  notes: string[];
  source: string;
}
export interface Found {
  value: unknown;
  unit: string;
}
export interface Figure {
  figure: string;
  purpose: string;
  inputs: Input[];
  outputs: Output[];
  example: Record<string, unknown>;
  source: string;
}
export interface Input {
  name: string;
  needed: boolean;
  default: string | null;
  what: string;
}
export interface Output {
  name: string;
  unit: string;
  what: string;
}
export interface Hit {
  kind: string;
  id: string;
  name: string;
  text: string;
  standing: string;
  source: string;
  note: string | null;
  price: number | null;
}
export interface Judged {
  file: string;
  case: number;
  line: number;
  figure: string;
  given: Record<string, unknown>;
  output: string;
  ours: number;
  theirs: number;
  unit: string;
  difference: number;
  allowed: string;
  holds: boolean;
  source: string;
  standing: string;
  note: string;
}
export interface NewBuildAsked {
  name: string;
  example?: string | null;
  answers?: Record<string, string> | null;
}
export interface AnswersAsked {
  answers: Record<string, string>;
}
export interface TextAsked {
  base: number;
  file?: string | null;
  text: string;
  label?: string | null;
  gather?: string | null;
  asker?: string | null;
}
export interface SetAsked {
  edits: EditAsked[];
  label?: string | null;
  gather?: string | null;
  asker?: string | null;
}
export interface EditAsked {
  file?: string | null;
  path: string[];
  value?: unknown | null;
  unit?: string | null;
}
export interface StepAsked {
  asker?: string | null;
}
export interface ConflictAsked {
  keep: KeepAsked;
  asker?: string | null;
}
export interface WhatIfAsked {
  edits: EditAsked[];
  asker?: string | null;
  turn?: number | null;
  brief?: boolean | null;
}
export interface ShopAsked {
  kind: string;
  fields: Record<string, unknown>;
  only_check?: boolean | null;
  asker?: string | null;
}
export interface BookAsked {
  parts?: string[] | null;
}
export interface FigureAsked {
  given: Record<string, string>;
}
export interface SweepAsked {
  given: Record<string, string>;
  input: string;
  from?: string | null;
  to?: string | null;
  count?: number | null;
}
export interface WordsAsked {
  words?: string | null;
  kind?: string | null;
}
export interface Error {
  error: string;
  hint: string | null;
  version: number | null;
}
export interface AboutBench {
  program: string;
  version: string;
  folder: string;
  only: string | null;
  units: string[];
  shelf_rows: number;
}
export interface Builds {
  folder: string;
  builds: Card[];
  examples: Example[];
}
export interface Card {
  id: string;
  title: string;
  verdict: Verdict | null;
  for_building: boolean;
  counts: Counts;
  changed_ms: number | null;
  picture: string | null;
  error: string | null;
}
export interface Counts {
  fails: number;
  unknown: number;
  close: number;
  holds: number;
}
export interface Example {
  name: string;
  title: string;
  what: string;
}
export interface Made {
  id: string;
}
export interface Desk {
  id: string;
  version: number;
  files: File[];
  undo: string | null;
  redo: string | null;
  unsaved: string | null;
  conflict: Conflict | null;
}
export interface File {
  name: string;
  role: Role;
  text: string;
  exists: boolean;
}
export interface Conflict {
  theirs: File[];
}
export interface Changed {
  id: string;
  version: number;
  asker: string | null;
  label: string;
  files: File[];
  undo: string | null;
  redo: string | null;
}
export interface Hello {
  version: string;
  start: number;
}
export interface Outside {
  id: string;
  version: number;
  files: string[];
}
export interface ConflictEvent {
  id: string;
  conflict: Conflict | null;
}
export interface Unsaved {
  id: string;
  version: number;
  why: string;
}
export interface Planned {
  id: string;
  version: number;
  of: number | null;
  stale: boolean;
  title: string;
  verdict: Verdict | null;
  for_building: boolean;
  counts: Counts;
  findings: Notice[];
  gone: Gone[];
  errors: Mistake[];
  fault: string | null;
  took_ms: number;
}
export interface Notice extends Finding {
  id: string;
  change: Change;
  value_text: string | null;
  limit_text: string | null;
  workings: number[];
  source_text: string;
}
export interface Gone {
  id: string;
  verdict: Verdict;
  message: string;
}
export interface Mistake {
  at: At;
  message: string;
  hint: string | null;
}
export interface PlanSheet {
  version: number;
  of: number | null;
  plan: Plan | null;
}
export interface WhatIf {
  version: number;
  verdict: Verdict | null;
  counts: Counts;
  findings: Notice[];
  gone: Gone[];
  errors: Mistake[];
  plan: Plan | null;
  strips: Strips | null;
  took_ms: number;
}
export interface Knobs {
  version: number;
  knobs: Knob[];
}
export interface Knob {
  id: string;
  what: string;
  file: string | null;
  path: string[];
  run: string | null;
  value: number | null;
  text: string | null;
  unit: string | null;
  least: number;
  most: number;
  step: number;
  stated: boolean;
  why: string | null;
}
export interface Plates {
  version: number;
  plates: PlateSheet[];
}
export interface PlateSheet {
  port: string;
  absent: string | null;
  refused: boolean;
  thickness_mm: number | null;
  outline: Corner[];
  holes: Hole[];
  groove: Groove | null;
  grips: GripPlace[];
  proofs: Proof[];
  face: Face | null;
  files: FileLink[];
}
export interface Corner {
  x_mm: number;
  y_mm: number;
  bulge: number;
}
export interface Hole {
  name: string;
  x_mm: number;
  y_mm: number;
  diameter_mm: number;
}
export interface Groove {
  middle: Corner[];
  width_mm: number;
  depth_mm: number;
}
export interface GripPlace {
  terminal: string;
  x_mm: number;
  y_mm: number;
  corners_mm: number | null;
  thread_mm: number | null;
  stated: boolean;
  path: string[];
}
export interface Proof {
  rule: string;
  what: string;
  value_mm: number;
  least_mm: number;
  holds: boolean;
}
export interface FileLink {
  name: string;
  url: string;
  what: string;
}
export interface Faces {
  version: number;
  faces: FaceSheet[];
}
export interface FaceSheet {
  face: Face;
  file: string;
  path: string[];
  drawing: string | null;
  photo: PhotoPlace;
  readings: ReadingPlace[];
}
export interface PhotoPlace {
  url: string | null;
  name: string;
  path: string[];
  size_px: [number, number] | null;
  points: PhotoClick[];
}
export interface PhotoClick {
  name: string;
  x_px: number;
  y_px: number;
  known_mm: [number, number] | null;
}
export interface ReadingPlace {
  at: At | null;
  path: string[];
  text: string;
}
export interface Shop {
  added: boolean;
  errors: Mistake[];
  text: string;
  version: number;
}
export interface BookPart {
  part: string;
  title: string;
}
export interface BookJob {
  job: number;
  url: string;
}
export interface BookEvent {
  id: string;
  job: number;
  state: BookState;
  url: string | null;
  error: string | null;
  took_ms: number;
  version: number;
}
export interface FigureAnswer {
  answer: Answer | null;
  errors: FigureError[];
}
export interface FigureError {
  input: string;
  message: string;
}
export interface Sweep {
  input: string;
  unit: string;
  at: number[];
  outputs: Swept[];
  errors: FigureError[];
}
export interface Swept {
  name: string;
  unit: string;
  values: (number | null)[];
}
export interface ShelfKind {
  kind: string;
  fields: string[];
}
export interface Table {
  path: string;
  what: string;
  keys: Key[];
  inner: string[];
}
export interface Key {
  name: string;
  what: string;
  example: string;
  accepts: string;
  words: string[];
  units: string[];
  shelf: string | null;
}
export interface Unit {
  kept: string;
  called: string;
  metric: ShownUnit;
  us: ShownUnit;
}
export interface ShownUnit {
  unit: string;
  factor: number;
  offset: number;
  decimals: number;
}
export interface Question {
  id: string;
  ask: string;
  why: string;
  kind: QuestionKind;
  choices: Choice[];
  example: string;
  needed: boolean;
  only_if: OnlyIf | null;
}
export interface Choice {
  word: string;
  means: string;
}
export interface OnlyIf {
  question: string;
  is: string[];
}
export interface Draft {
  text: string;
  open: string[];
  errors: FigureError[];
}
export interface End {
  port: string;
  terminal: string;
  lug: string | null;
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
  kept: Kept | null;
  bend: Bend | null;
  warm: Warm | null;
  screen: Screen | null;
  before_lug: string[];
}
export interface Kept {
  assembled_n: number;
  scatter_n: number;
  settled_n: number;
  cold_n: number;
  hot_n: number | null;
  most_n: number;
  wanted_n: number;
  cold_c: number | null;
  hot_c: number | null;
}
export interface Bend {
  radius_mm: number;
  radius_mm_min: number;
  strain: number;
  from_hole_mm: number;
  flat_mm: number;
  rise_mm: number;
}
export interface Warm {
  lug_c: number;
  rise_k: number;
  joint_ohm: number;
  loss_w: number;
}
export interface Screen {
  how: string | null;
  sheath_mm: number | null;
  screen_mm: number;
  core_mm: number | null;
  core_mm_min: number;
  cover: string | null;
  cover_length_mm: number | null;
  bolt: string | null;
}
export interface Stack {
  name: string;
  kind: string;
  class: string;
  length_mm: number;
  flats_mm: number | null;
  washer: string | null;
  clamped_mm: number;
  engagement_mm: number;
  engagement_mm_min: number;
  left_mm: number;
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
export interface Strips {
  version: number;
  of: number | null;
  strips: Strip[];
}
export interface Strip {
  run: string;
  carries: string;
  from: string;
  to: string;
  from_name: string;
  to_name: string;
  unknown: string | null;
  length_mm: number;
  faces_mm: [number, number];
  y_mm: [number, number];
  cut_mm: number | null;
  cable: string | null;
  shapes: Shape[];
  heat: StripHeat | null;
  sections: StripSection[];
  measures: Measure[];
  at: At | null;
}
export interface Shape {
  id: string;
  kind: ShapeKind;
  text: string;
  outline: ([number, number])[];
  about: About;
  findings: string[];
}
export interface StripHeat {
  cable: string;
  spots: StripSpot[];
  limit_c: number;
  air_c: number;
  range_c: [number, number];
  hottest_mm: number | null;
  margin_k: number | null;
  margin_text: string | null;
}
export interface StripSpot {
  x_mm: number;
  steady_c: number;
  hottest_c: number | null;
  low_c: number | null;
  high_c: number | null;
}
export interface StripSection {
  name: string;
  from_mm: number;
  to_mm: number;
  steady_c: number | null;
  text: string;
}
export interface Measure {
  from_mm: number;
  to_mm: number;
  text: string;
  path: string[] | null;
}
export interface Face {
  port: string;
  title: string | null;
  consistent: boolean;
  chi_square: number;
  chi_square_limit: number | null;
  redundancy: number;
  holes: Point[];
  terminals: Point[];
  corners: Point[];
  opening: Vertex[] | null;
  outline: Vertex[] | null;
  readings: Reading[];
  suspect: Suspect | null;
  loose: string[];
  missing: string[];
  photo: Photo | null;
  faults: string[];
}
export interface Point {
  name: string;
  x_mm: number;
  y_mm: number;
  diameter_mm: number | null;
  sigma_mm: number | null;
}
export interface Vertex {
  x_mm: number;
  y_mm: number;
  bulge: number;
}
export interface Reading {
  what: string;
  value_mm: number;
  sigma_mm: number;
  residual_mm: number;
  normalised: number | null;
}
export interface Suspect {
  reading: number;
  what: string;
  should_mm: number;
  should_sigma_mm: number;
  alike: number[];
  cures: boolean;
}
export interface Photo {
  known: Known[];
  redundancy: number;
  rms_px: number;
  rms_mm: number;
}
export interface Known {
  name: string;
  residual_px: number;
  residual_mm: number;
}
export type Verdict = "fails" | "unknown" | "close" | "holds";
export type When = "bench" | "laid" | "fitted" | "first_power" | "first_drive";
export type Rule = "at_most" | "at_least" | "between" | "seen" | "unknown";
export type KeepAsked = "ours" | "theirs";
export type Role = "document" | "shop" | "face";
export type Change = "same" | "new" | "worse" | "better" | "moved";
export type BookState = "setting" | "ready" | "failed";
export type QuestionKind = "choice" | "words" | "quantity";
export type ShapeKind = "box" | "terminal" | "cable" | "conductor" | "lug" | "bolt" | "washer" | "sleeve" | "plate" | "groove" | "grip" | "clip";
