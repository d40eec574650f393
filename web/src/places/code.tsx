import { useState } from "preact/hooks";
import { enterWith } from "../desk";

/** Away from the computer: the code in its terminal lets this browser in. */
export function Code() {
	const [code, setCode] = useState("");
	return (
		<form
			class="start"
			onSubmit={(e) => {
				e.preventDefault();
				void enterWith(code);
			}}
		>
			<label>
				The code in the terminal that runs skimwright
				<input
					inputMode="numeric"
					autoComplete="one-time-code"
					value={code}
					onInput={(e) => setCode(e.currentTarget.value)}
				/>
			</label>{" "}
			<button type="submit" class="main">
				Let me in
			</button>
			<p class="quiet">
				On the computer itself, open the whole address that it printed: it carries what this code
				stands for.
			</p>
		</form>
	);
}
