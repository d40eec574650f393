import { render } from "preact";
import { App } from "./app";
import "./style.css";

const place = document.getElementById("page");
if (place) render(<App />, place);
