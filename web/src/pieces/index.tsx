// How the hull is printed, and whether it holds: pieces and margins along the length.
import { Cut } from "./cut";
import { Holds } from "./holds";
import "./pieces.css";

export default function Pieces() {
	return (
		<div class="pieces">
			<Cut />
			<Holds />
		</div>
	);
}
