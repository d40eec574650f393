import { effect } from "@preact/signals";
import { render } from "preact";
import { App } from "./app";
import { session } from "./state";
import "./style.css";
import { follow } from "./ui/units";

const place = document.getElementById("page");
effect(() => follow(session.value?.units));
if (place) render(<App />, place);
