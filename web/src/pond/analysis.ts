// What recordings tell. Values are SI; `sigma` is one standard uncertainty.
import type { components } from "../api/schema";
import type { AnswerOf } from "../api/types";

type Schemas = components["schemas"];

export type Measured = Schemas["Measured"];
export type Value = Schemas["MeasuredValue"];
export type Analysis = Schemas["Analysis"];
export type Point = Analysis["traces"][number]["points"][number];
export type Heard = AnswerOf<"hear">;
export type Logged = AnswerOf<"log">;
export type Column = Schemas["LogColumn"];
export type Clock = Schemas["SharedClock"];
