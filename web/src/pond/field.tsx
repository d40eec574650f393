import { useState } from "preact/hooks";

/** A line to write in, told when it is left; what is being typed outlives whatever is drawn meanwhile. */
export function Field(props: {
	name: string;
	value: string;
	hint: string;
	say: (text: string) => void;
}) {
	const [typed, setTyped] = useState<string | null>(null);
	return (
		<label>
			{props.name}
			<input
				value={typed ?? props.value}
				placeholder={props.hint}
				onInput={(e) => setTyped(e.currentTarget.value)}
				onChange={(e) => {
					props.say(e.currentTarget.value);
					setTyped(null);
				}}
			/>
		</label>
	);
}
