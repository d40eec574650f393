// Pictures and their numbers to take along: a table as CSV, a drawing as PNG.
import * as state from "../state";

/** Fields with a comma, a quote or a line break are quoted, as RFC 4180 has it. */
export const csv = (rows: readonly (readonly (string | number)[])[]): string =>
	rows.map((row) => row.map((f) => quoted(String(f))).join(",")).join("\r\n");

const quoted = (field: string) =>
	/[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field;

function save(blob: Blob, name: string) {
	const link = document.createElement("a");
	link.href = URL.createObjectURL(blob);
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Named after the boat and what it shows. */
const named = (what: string, ending: string) => {
	const boat = (state.session.value?.boat ?? "boat")
		.toLowerCase()
		.replaceAll(/[^\p{L}\p{N}\p{M}]+/gu, "-");
	return `${boat}-${what}.${ending}`;
};

/** What an element inherits and a picture by itself does not. */
const INHERITED = [
	"fill",
	"fill-opacity",
	"stroke",
	"stroke-width",
	"stroke-dasharray",
	"opacity",
	"font",
	"paint-order",
	"vector-effect",
	"text-anchor",
];

function alone(drawing: SVGSVGElement): string {
	const copy = drawing.cloneNode(true) as SVGSVGElement;
	const [from, to] = [drawing, copy].map((d) => [d, ...d.querySelectorAll<SVGElement>("*")]);
	from?.forEach((e, i) => {
		const style = getComputedStyle(e);
		const target = to?.[i] as SVGElement;
		for (const name of INHERITED) target.style.setProperty(name, style.getPropertyValue(name));
	});
	const box = drawing.getBoundingClientRect();
	copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
	copy.setAttribute("width", String(box.width));
	copy.setAttribute("height", String(box.height));
	return new XMLSerializer().serializeToString(copy);
}

/** Any drawing of the page on one sheet of its paper's colour, twice as fine as on the screen. */
async function painted(drawings: readonly (SVGSVGElement | HTMLCanvasElement)[]): Promise<Blob> {
	const boxes = drawings.map((d) => d.getBoundingClientRect());
	const [left, top] = [Math.min(...boxes.map((b) => b.left)), Math.min(...boxes.map((b) => b.top))];
	const wide = Math.max(...boxes.map((b) => b.right)) - left;
	const high = Math.max(...boxes.map((b) => b.bottom)) - top;
	const canvas = document.createElement("canvas");
	[canvas.width, canvas.height] = [2 * wide, 2 * high];
	const pen = canvas.getContext("2d");
	if (!pen) throw new Error("this browser makes no pictures");
	pen.scale(2, 2);
	pen.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("--sheet");
	pen.fillRect(0, 0, wide, high);
	for (const [i, d] of drawings.entries()) {
		const box = boxes[i] as DOMRect;
		let image: CanvasImageSource = d as HTMLCanvasElement;
		if (d instanceof SVGSVGElement) {
			const made = new Image();
			made.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(alone(d))}`;
			await made.decode();
			image = made;
		}
		pen.drawImage(image, box.left - left, box.top - top, box.width, box.height);
	}
	return new Promise((done, failed) =>
		canvas.toBlob((b) => (b ? done(b) : failed(new Error("no picture came of it"))), "image/png"),
	);
}

interface Props {
	/** Of the file. */
	name: string;
	rows?: readonly (readonly (string | number)[])[];
	/** Selects what is in the picture: SVG and canvas, one over the other. */
	picture?: string;
	/** Asked to draw once more before the picture is taken. */
	before?: () => void;
}

export function Take({ name, rows, picture, before }: Props) {
	const draw = async () => {
		before?.();
		const all = document.querySelectorAll<SVGSVGElement | HTMLCanvasElement>(picture ?? "");
		if (all.length > 0) save(await painted([...all]), named(name, "png"));
	};
	return (
		<span class="take">
			{rows && (
				<button
					type="button"
					title="These numbers as a table"
					onClick={() => save(new Blob([csv(rows)], { type: "text/csv" }), named(name, "csv"))}
				>
					CSV
				</button>
			)}
			{picture && (
				<button type="button" title="This picture" onClick={() => void draw()}>
					PNG
				</button>
			)}
		</span>
	);
}
