import type { components } from "./schema";

type Schemas = components["schemas"];

export type Session = Schemas["SessionView"];
export type Boat = Schemas["BoatView"];
export type Study = Schemas["StudyView"];
export type Finding = Schemas["FindingView"];
export type Poses = Schemas["PosesView"];
export type Pose = Schemas["PoseView"];
export type Stave = Schemas["StaveView"];
export type Line = Schemas["Lines"];
export type StaveKind = Schemas["StaveKind"];
export type Table = Schemas["TableView"];
export type Key = Schemas["KeyView"];
export type Problem = Schemas["Place"];
export type Edit = Schemas["EditAsked"];
export type Step = string | number;
export type Demo = Schemas["DemoView"];
export type Starter = Schemas["StarterView"];
export type Form = Schemas["HullForm"];
export type Job = Schemas["JobView"];
export type Refusal = Schemas["Refusal"];
export type Symptom = Schemas["SymptomView"];

/** What can be asked, and what is answered to it. */
export type Ask = Schemas["Ask"];
export type Answer = Schemas["Answer"];
export type AskName = Ask["ask"];
export type AskOf<Name extends AskName> = Extract<Ask, { ask: Name }>["with"];
export type AnswerOf<Name extends AskName> = Extract<Schemas["Answer"], { answer: Name }>["is"];
/** A number as the program sends it: value, half width of its 95 % interval, unit. */
export type Quantity = Schemas["Number"];
