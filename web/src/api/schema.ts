export interface paths {
    "/api/boat": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The boat file, every key it has or could have, and what is tried out. */
        get: operations["boat"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/boat/choice": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Chooses where the page and the file changed the same key. */
        post: operations["settle"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/boats": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Starts a boat folder from a starter hull and opens it. */
        post: operations["new_boat"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/boats/mesh": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Starts a boat from a mesh of one's own, with the parts of a starter boat to be changed. */
        post: operations["boat_from_mesh"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/builds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Frozen builds side by side: what changed, what was predicted, what happened; see docs/json.md. */
        get: operations["builds"];
        put?: never;
        /** Freezes the saved boat as a build. */
        post: operations["keep"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/demos": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The demonstration boats. */
        get: operations["demos"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/demos/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Opens a scratch copy of a demonstration boat; saving copies it to the builder's own folder. The
         *     `/` of a name in a folder is written `~`: `faults~tadpole-pack-aft`.
         */
        post: operations["open_demo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/form": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The shape with what is fitted. */
        get: operations["form"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/form/mesh": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The mesh as bytes: `SKM1`, vertices and triangles as u32, then positions and normals as f32 and
         *     corners as u32, little-endian, boat axes, m.
         */
        get: operations["mesh"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Jobs going on and lately ended. */
        get: operations["list"];
        put?: never;
        /** Starts a job. */
        post: operations["start"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One job. */
        get: operations["job"];
        put?: never;
        post?: never;
        /** Stops a job; what it had is dropped. */
        delete: operations["stop"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/events": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Progress as server-sent events: each is a `JobView`; the last has a stage that is not `running`. */
        get: operations["events"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/keys": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every key a boat file could have, as a JSON Schema. */
        get: operations["keys"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/learned": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Keeps what an outing taught: writes `learned.toml`, which every prediction then carries. Gives what
         *     `learn --keep` prints, see docs/json.md.
         */
        post: operations["learn"];
        /** Predicts without what was learned: `learned.toml` is set aside, not deleted. */
        delete: operations["unlearn"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The outings of this boat. */
        get: operations["outings"];
        put?: never;
        /** Begins an outing, or writes its `outing.toml` anew. */
        post: operations["begin"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/marks/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /**
         * Writes marks set in the page beside a film: `NAME` ends in `.marks.json` or `.marks.toml`.
         *     Marks are notes, and are replaced; docs/recordings.md shows how they are written.
         */
        put: operations["marks"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/notes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Writes single keys of `outing.toml`, comments and order kept. */
        post: operations["note"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/recordings/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A recording as it is; parts of it by Range, to step through a video. */
        get: operations["recording"];
        /** Takes a recording in, streamed to disk; one that is there already is never replaced. */
        put: operations["take_in"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/recordings/{name}/columns": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Remembers how this logger's columns are read, and gives the log measured so: what `log --confirm`
         *     prints, see docs/json.md.
         */
        post: operations["agree"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/recordings/{name}/courses": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Every reading of a log or a track. Little-endian: a 32-bit length, as many bytes of JSON
         *     (`count`, `start_unix_s`, `confirmed`, `thinned`, and `courses` with `name` and `unit`; padded with
         *     spaces so that numbers begin at a multiple of 8), `count` times as 64-bit floats, then for each course
         *     `count` values as 32-bit floats, NaN where there is none. A track's courses are `east`, `north`, `speed`.
         */
        get: operations["courses"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/recordings/{name}/frames": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** When the frames of an MP4 or MOV film are shown. */
        get: operations["frames"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/outings/{id}/recordings/{name}/picture": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A sound as a picture: tones against time. Little-endian: four 64-bit floats (beginning of the first
         *     column in s, width of a column in s, bottom of the lowest row in Hz, height of a row in Hz), two
         *     32-bit counts (columns, rows), then a byte a place, column after column, the lowest row first: 0 to
         *     255 for 0 to 36 dB over the bands around.
         */
        get: operations["sound_picture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/poses": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The boat at every speed of the rail, and the staves over it. */
        get: operations["poses"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/quantities": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What a log's column can hold. */
        get: operations["quantities"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/report": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The report: one self-contained page with drawings, to print. */
        get: operations["report"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/save": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Writes what is tried out to the boat file, comments and order kept. */
        post: operations["save"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/session": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What is open, and how. */
        get: operations["session"];
        put?: never;
        /** Gives the cookie for the token or the code. */
        post: operations["open_session"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/starters": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The starter hulls. */
        get: operations["starters"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/staves": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** More lines over the rail, each kind asked for by itself because each takes a while. */
        get: operations["staves"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/study": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Findings, mass, balance and assumptions. */
        get: operations["study"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/symptoms": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Symptoms whose causes are known here. */
        get: operations["symptoms"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/whatif": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** Makes edits beside the saved boat: one step back each, or one for a whole drag. */
        put: operations["edit"];
        post?: never;
        /** Back to the saved boat, as a step that can be undone. */
        delete: operations["discard"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/whatif/redo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** One step forward again. */
        post: operations["redo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/whatif/undo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** One step back. */
        post: operations["undo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /** @description Where what was learned went. */
        Aside: {
            /** @description In the boat folder. */
            file: string;
        };
        /** @description A number nobody gave. */
        AssumptionView: {
            /** @description Which. */
            what: string;
            /** @description What was taken. */
            number: components["schemas"]["NumberView"];
            /** @description Why that. */
            why: string;
        };
        /** @description Centre of gravity, boat axes. */
        BalanceView: {
            /** @description Ahead of the transom. */
            x: components["schemas"]["NumberView"];
            /** @description To port. */
            y: components["schemas"]["NumberView"];
            /** @description Above the transom's bottom edge. */
            z: components["schemas"]["NumberView"];
        };
        /** @description The boat file and what is tried out. */
        BoatView: {
            /** @description Which text `text` and `tables` are of. */
            text: string;
            /** @description Of the saved text; send it back with a save. */
            revision: string;
            /** @description Of the text tried out; the same as `revision` when nothing is. */
            whatif_revision: string;
            /**
             * Format: int64
             * @description Counts every change here; send it back with edits.
             */
            version: number;
            /** @description Every table and key. */
            tables: components["schemas"]["TableView"][];
            /** @description What is wrong with the text, or should be known about it. */
            problems: components["schemas"]["Problem"][];
            /** @description What is tried out, key by key. */
            changed: components["schemas"]["ChangedView"][];
            /** @description Names of steps back, last first. */
            undo: string[];
            /** @description Names of steps forward, next first. */
            redo: string[];
            /** @description What happened to the file outside of the page. */
            outside: components["schemas"]["OutsideView"];
        };
        /** @description A build to freeze. */
        BuildAsked: {
            /** @description Why it changed, in the builder's words. */
            why: string;
        };
        /** @description An adjustment. */
        ChangeView: {
            /** @description What to do. */
            what: string;
            /** @description What it gives. */
            effect: string;
            /** @description Whether it moves the number the right way. */
            better: boolean;
            /** @description The edits that try it, for PUT /api/whatif; empty where it is no edit of the file. */
            edits: components["schemas"]["EditAsked"][];
        };
        /** @description A key that is tried out. */
        ChangedView: {
            /** @description The way to it. */
            path: components["schemas"]["Step"][];
            /** @description In words. */
            what: string;
            /** @description As saved; null where it is new. */
            saved?: unknown;
            /** @description As tried out; null where it is taken away. */
            whatif?: unknown;
        };
        /** @description Which side to keep where both changed the same key. */
        ChoiceAsked: {
            /** @description `mine` keeps what is tried out, `theirs` what the file has now. */
            keep: components["schemas"]["Side"];
        };
        /** @description A key changed here and outside. */
        ClashView: {
            /** @description The way to it. */
            path: components["schemas"]["Step"][];
            /** @description In words. */
            what: string;
            /** @description As tried out here. */
            mine?: unknown;
            /** @description As in the file now. */
            theirs?: unknown;
        };
        /** @description A column and what it holds. */
        ColumnAsked: {
            /** @description As in the file, without its unit. */
            heading: string;
            /** @description As GET /api/quantities names it; nothing leaves the column alone. */
            quantity?: string | null;
            /** @description `degF`, `km/h`, `mA`; what the heading says unless given. */
            unit?: string | null;
        };
        /** @description The reading of a log's columns that the builder agrees to. */
        ColumnsAsked: {
            /** @description Columns that are read otherwise than proposed. */
            columns?: components["schemas"]["ColumnAsked"][];
        };
        /** @description A demonstration boat. */
        DemoView: {
            /** @description Names it. */
            id: string;
            /** @description The boat's name. */
            name: string;
            /** @description What its builder says of it, from the top of its file. */
            says: string;
            /** @description Whether it has a fault on purpose. */
            fault: boolean;
        };
        /**
         * @description How hard to look.
         * @enum {string}
         */
        DepthAsked: "best" | "quick" | "full";
        /** @description A drive at one speed. */
        DriveView: {
            /** @description Its name; may be empty. */
            drive: string;
            /**
             * Format: double
             * @description rpm of the propeller.
             */
            shaft_rpm: number;
            /**
             * Format: double
             * @description From the battery, A.
             */
            current_a: number;
            /**
             * Format: double
             * @description At the battery, V.
             */
            voltage_v: number;
            /**
             * Format: double
             * @description N.
             */
            thrust_n: number;
            /**
             * Format: double
             * @description Of the disc: 0 out, 1 covered.
             */
            immersion: number;
            /**
             * Format: double
             * @description Against pitch speed, 0 to 1.
             */
            slip: number;
        };
        /** @description One edit. */
        EditAsked: {
            /**
             * @description The way to the value: `["part", "Battery", "mass"]`; to a table of a list for `remove`;
             *     to the list itself for `add`.
             */
            path: components["schemas"]["Step"][];
            /** @description What to do; `set` unless given. */
            action?: components["schemas"]["EditKind"];
            /** @description For `set`: `"38 mm"`, a number, true or false, or a list of texts. */
            value?: unknown;
            /** @description For `add`: the new table's name. */
            name?: string | null;
        };
        /**
         * @description What an edit does.
         * @enum {string}
         */
        EditKind: "set" | "remove" | "add";
        /** @description Edits to make, all or none. */
        EditsAsked: {
            /** @description In order. */
            edits: components["schemas"]["EditAsked"][];
            /**
             * Format: int64
             * @description The `version` this page last saw: an edit of a key that another page changed since is
             *     refused. Without it nothing is compared.
             */
            version?: number | null;
            /** @description Names the page, so that its own edits do not count as another's. */
            client?: string | null;
            /** @description Edits of one drag share a name here and are one step back. */
            gesture?: string | null;
        };
        /** @description A label and a value. */
        FigureView: {
            /** @description What it is. */
            label: string;
            /** @description With unit. */
            value: string;
        };
        /** @description One finding. */
        FindingView: {
            /** @description Stable name. */
            id: string;
            /** @description `stop`, `watch`, `unsure` or `good`. */
            standing: string;
            /** @description A shape that tells it without colour. */
            mark: string;
            /** @description What a builder would say. */
            sentence: string;
            number?: components["schemas"]["NumberView"] | null;
            limit?: components["schemas"]["LimitView"] | null;
            /** @description `statics`, `measured-elsewhere`, `theory-only` or `rule-of-thumb`. */
            basis: string;
            /** @description The same in words. */
            basis_words: string;
            /** @description How it comes about. */
            why: string;
            /** @description The figures behind the why. */
            figures: components["schemas"]["FigureView"][];
            /** @description What would change it, best first. */
            changes: components["schemas"]["ChangeView"][];
            /** @description A caution at the point of use. */
            caution?: string | null;
        };
        /** @description Something fitted that feels water or lets it in. */
        FittingView: {
            /** @description `propeller`, `strut`, `rudder`, `fin`, `wing`, `opening` or `foam`. */
            kind: string;
            /** @description Its name; may be empty. */
            name: string;
            /** @description Boat axes, m. */
            at_m: number[];
            /**
             * Format: double
             * @description Diameter of a propeller, chord of a blade or wing, m.
             */
            chord_m?: number | null;
            /**
             * Format: double
             * @description Span downward of a blade, across of a wing, m.
             */
            span_m?: number | null;
            /**
             * Format: double
             * @description Leaning out of the vertical, degrees.
             */
            lean_deg?: number | null;
            /**
             * Format: double
             * @description Turned out of straight ahead, degrees.
             */
            toe_deg?: number | null;
            /** @description Path of its `at` in the boat file. */
            at_path: components["schemas"]["Step"][];
        };
        /** @description One element's force. */
        ForceView: {
            /** @description What a builder would call it. */
            name: string;
            /** @description Where to draw it, boat axes, m. */
            at_m: number[];
            /** @description Boat axes, N. */
            force_n: number[];
            /** @description About the boat's origin, N m. */
            moment_n_m: number[];
        };
        /** @description Frames of a film. */
        FramesView: {
            /** @description When each frame is shown, s on the film's clock, from the film's own table. */
            shown_s: number[];
        };
        /** @description The shape and what is fitted. */
        HullForm: {
            /** @description Of the text it was worked out from. */
            revision: string;
            /** @description Names the mesh: the same for the same shape. */
            mesh: string;
            /** @description Triangles of the mesh. */
            triangles: number;
            /**
             * Format: double
             * @description m.
             */
            length_m: number;
            /**
             * Format: double
             * @description m.
             */
            beam_m: number;
            /** @description Least and greatest coordinates, boat axes, m. */
            bounds_m: number[][];
            /** @description Centre of gravity, boat axes, m. */
            balance_m: number[];
            /** @description Centre of buoyancy at rest, boat axes, m. */
            buoyancy_m?: number[] | null;
            /** @description Running surfaces. */
            surfaces: components["schemas"]["SurfaceView"][];
            /** @description The mass table: shell first, then the parts in file order. */
            parts: components["schemas"]["PartView"][];
            /** @description Propellers, struts, rudders, fins, wings, openings, foam. */
            fittings: components["schemas"]["FittingView"][];
            /** @description Cross-sections. */
            sections: components["schemas"]["SectionView"][];
            /** @description Where the still water meets the hull at rest, boat axes, m. */
            waterlines_m: number[][][];
        };
        /** @description Work to start. */
        JobAsked: {
            /** @description What to work out. */
            kind: components["schemas"]["JobKind"];
            /** @description `saved` or `whatif` (unless given). */
            of?: components["schemas"]["Of"];
            /** @description The recording, for kinds that hear or read one: `outings/2026-05-17/run-1.wav`. */
            file?: string | null;
            /** @description Symptoms in the builder's words, for `why`. */
            words?: string[];
            /**
             * @description What the command of the same name takes after `--`; `"true"` for one without a value. The `script` of
             *     `pond` is the table itself.
             */
            options?: {
                [key: string]: string;
            };
        };
        /**
         * @description What can be worked out at length. All but `study` give what the command of that name prints with
         *     `--json`: see docs/json.md.
         * @enum {string}
         */
        JobKind: "study" | "pond" | "stint" | "outfit" | "learn" | "why" | "hear" | "track" | "pulses" | "log" | "marks" | "measure";
        /** @description A job as the page sees it. */
        JobView: {
            /**
             * Format: int64
             * @description Names it.
             */
            id: number;
            /** @description What it works out. */
            kind: string;
            /** @description How it stands. */
            stage: components["schemas"]["Stage"];
            /** @description What is being done now, in words. */
            doing: string;
            /**
             * Format: double
             * @description Part done, 0 to 1; nothing where it cannot be told.
             */
            part?: number | null;
            refusal?: components["schemas"]["Refusal"] | null;
            /** @description What came of it. */
            result?: unknown;
        };
        /** @description One key. */
        KeyView: {
            /** @description The way to it from the top. */
            path: components["schemas"]["Step"][];
            /** @description As written in the file. */
            name: string;
            /** @description What it means. */
            doc: string;
            /** @description What a value looks like. */
            form: components["schemas"]["ValueForm"];
            /** @description What is written; null when absent; a list for places and files. */
            written?: unknown;
            /**
             * Format: double
             * @description The quantity in the first accepted unit.
             */
            number?: number | null;
            /** @description From 1; 0 when absent. */
            line: number;
            /** @description Whether the file must have it. */
            required: boolean;
            /** @description What is taken when it is absent. */
            assumed?: string | null;
            /** @description Why that. */
            why?: string | null;
        };
        /** @description What to learn from. */
        LearnAsked: {
            /** @description The outing. */
            outing: string;
        };
        /** @description A limit. */
        LimitView: {
            at_least?: components["schemas"]["NumberView"] | null;
            at_most?: components["schemas"]["NumberView"] | null;
            /** @description Who says so. */
            says: string;
            /** @description For reading: `at least 25 mm`. */
            shown: string;
        };
        /** @description One line with speeds of its own. */
        Lines: {
            /** @description Stable name: `pitch-growth`. */
            id: string;
            /** @description Lines of one stave share this: `stability`. */
            stave: string;
            /** @description What it is. */
            label: string;
            /** @description Of the values. */
            unit: string;
            /** @description km/h. */
            speeds_km_h: number[];
            /** @description One for each speed; nothing where there is no answer. */
            values: (number | null)[];
        };
        /** @description A mesh to start a boat from. */
        MeshSent: {
            /** @description The builder's name for the boat; the file's name unless given. */
            name?: string | null;
            /** @description Hull type whose parts to start with; three-point unless given. */
            hull?: string | null;
            /**
             * Format: binary
             * @description STL, 3MF or OBJ.
             */
            file: string;
        };
        /** @description A boat to start. */
        NewBoat: {
            /** @description The builder's name for it; the folder is named after it. */
            name: string;
            /** @description A starter hull: see GET /api/starters. */
            hull: string;
        };
        /** @description One key of an outing's notes. */
        Note: {
            /** @description The recording it is about; the outing itself unless given. */
            recording?: string | null;
            /** @description As in `outing.toml`: `place`, `air_temperature`; of a recording `closest`, `still`. */
            key: string;
            /** @description As written in the file, without quotes; nothing takes the key away. */
            value?: string | null;
        };
        /** @description What to write into an outing's notes. */
        NotesAsked: {
            /** @description One after the other; all or none are written. */
            notes: components["schemas"]["Note"][];
        };
        /** @description Something the mesh reader found. */
        NoticeView: {
            /** @description Whether answers may be wrong because of it. */
            serious: boolean;
            /** @description A sentence. */
            text: string;
        };
        /** @description A value with its spread (95 % half-width) and unit. */
        NumberView: {
            /**
             * Format: double
             * @description In `unit`; nothing where it could not be worked out.
             */
            value?: number | null;
            /**
             * Format: double
             * @description In `unit`; 0 when not estimated.
             */
            spread: number;
            /** @description As the trade writes it; empty for a plain number. */
            unit: string;
            /** @description For reading: `38 ± 3 mm`. */
            shown: string;
        };
        /**
         * @description Which of the two texts.
         * @enum {string}
         */
        Of: "saved" | "whatif";
        /** @description An outing to begin. */
        OutingAsked: {
            /** @description `2026-05-17`, or that with `-2`. */
            id: string;
            /** @description Text of its `outing.toml`; one to fill in unless given. */
            text?: string;
        };
        /** @description A day on the pond. */
        OutingView: {
            /** @description Names it; usually a date. */
            id: string;
            /** @description `outing.toml` as written. */
            text: string;
            /** @description The same, key by key; null where it cannot be read. */
            notes?: unknown;
            /** @description What is wrong with it. */
            problems: components["schemas"]["Problem"][];
            /** @description What the analyses made of it; see docs/json.md. */
            measured?: unknown;
            /** @description Everything else in the folder. */
            recordings: components["schemas"]["RecordingView"][];
        };
        /** @description What happened to the file outside of the page. */
        OutsideView: {
            /** @description `calm`, `merged`, `clash` or `gone`. */
            state: string;
            /** @description In a sentence; empty when calm. */
            message: string;
            /** @description Keys that were merged. */
            merged: string[];
            /** @description Keys somebody must choose between: POST /api/boat/choice. */
            clashes: components["schemas"]["ClashView"][];
        };
        /** @description One entry of the mass table. */
        PartView: {
            /** @description Its name. */
            name: string;
            /** @description Its mass. */
            mass: components["schemas"]["NumberView"];
            /** @description `weighed`, `predicted from the print`, `given` or `assumed`. */
            source: string;
            /** @description Its own centre, boat axes, m. */
            at_m: number[];
            /** @description Length, width, height, m; zero when not given. */
            size_m: number[];
            /** @description Whether a builder can slide it. */
            movable: boolean;
            /** @description Path of its `at` in the boat file; empty for the shell. */
            at_path: components["schemas"]["Step"][];
        };
        /** @description The boat at one speed. */
        PoseView: {
            /**
             * Format: double
             * @description km/h.
             */
            speed_km_h: number;
            /**
             * Format: double
             * @description 0 to 1; over 1 the drive cannot hold this speed.
             */
            throttle: number;
            /**
             * Format: double
             * @description Bow up positive, degrees.
             */
            trim_deg: number;
            /**
             * Format: double
             * @description Starboard down positive, degrees.
             */
            heel_deg: number;
            /**
             * Format: double
             * @description Height of the boat's origin over still water, m.
             */
            rise_m: number;
            /** @description Every element's force. */
            forces: components["schemas"]["ForceView"][];
            /** @description Every running surface. */
            wetted: components["schemas"]["WettedView"][];
            /** @description Every drive. */
            drives: components["schemas"]["DriveView"][];
            /**
             * Format: double
             * @description Drag the propellers must overcome, N.
             */
            thrust_needed_n: number;
            /**
             * Format: double
             * @description At full throttle, N.
             */
            thrust_available_n: number;
            /** @description Whether a small push in heave or pitch dies out. */
            steady: boolean;
            /** @description Where laws are used outside their range. */
            notes: string[];
        };
        /** @description Everything along the rail. */
        PosesView: {
            /** @description Of the text it was worked out from. */
            revision: string;
            /** @description Whether the staves have bands. */
            full: boolean;
            rest?: components["schemas"]["PoseView"] | null;
            /** @description The way it runs coming up from rest, by speed. */
            running: components["schemas"]["PoseView"][];
            /** @description Other ways it could run at the same speeds, by speed. */
            others: components["schemas"]["PoseView"][];
            /** @description Speeds at which it changes attitude at a stroke, km/h. */
            jumps_km_h: number[];
            /** @description Speeds at which it has no steady attitude, km/h. */
            none_km_h: number[];
            /**
             * Format: double
             * @description Top speed, km/h.
             */
            top_km_h?: number | null;
            /**
             * Format: double
             * @description Narrowest place before planing, km/h.
             */
            hump_km_h?: number | null;
            /**
             * Format: double
             * @description Where it is planing, km/h.
             */
            planing_km_h?: number | null;
            /** @description Speeds of the staves, km/h: those of `running`. */
            speeds_km_h: number[];
            /** @description What is drawn over the rail. */
            staves: components["schemas"]["StaveView"][];
        };
        /** @description One thing wrong with the boat file. */
        Problem: {
            /** @description From 1. */
            line: number;
            /** @description From 1, in characters. */
            column: number;
            /** @description Key at fault, as written on that line; empty when it cannot be told. */
            path: string;
            /** @description What is wrong. */
            text: string;
            /** @description What would be right; may be empty. */
            hint: string;
            /** @description Whether the file can be used all the same. */
            warning: boolean;
        };
        /** @description A recording. */
        RecordingView: {
            /** @description Its name. */
            name: string;
            /**
             * Format: int64
             * @description Its size.
             */
            bytes: number;
            /** @description To name it in a job: `outings/2026-05-17/run-1.wav`. */
            file: string;
            /** @description What it is: `sound`, `marks`, `track`, `log`, `pulses` or `other`. */
            kind: string;
            /** @description Whether it has pictures. */
            film: boolean;
        };
        /** @description Why a request was refused. */
        Refusal: {
            /** @description What is wrong, in a sentence. */
            message: string;
            /** @description What would put it right; may be empty. */
            hint: string;
            /** @description Each fault of the boat file with its place. */
            problems: components["schemas"]["Problem"][];
        };
        /** @description What to save. */
        SaveAsked: {
            /** @description The `revision` this page was showing; refused when the file has moved on since. */
            revision?: string | null;
        };
        /** @description What came of saving. */
        SavedView: {
            /** @description The boat as saved. */
            boat: components["schemas"]["BoatView"];
            /** @description Where it was saved: a demonstration boat moves to a folder of the builder's. */
            folder: string;
        };
        /** @description A cross-section. */
        SectionView: {
            /**
             * Format: double
             * @description m.
             */
            x_m: number;
            /** @description Closed lines of (y, z), m. */
            lines_m: number[][][];
        };
        /** @description The token from the address, or the code somebody read out. */
        SessionAsked: {
            /** @description From the address that was opened. */
            token?: string | null;
            /** @description From the terminal. */
            code?: string | null;
        };
        /** @description What is open, and how. */
        SessionView: {
            /** @description Of the program. */
            version: string;
            /** @description Whether nothing may be saved. */
            read_only: boolean;
            /** @description Whether it listens on the local network. */
            lan: boolean;
            /** @description The boat's name; nothing when none is open. */
            boat?: string | null;
            /** @description Its folder. */
            folder?: string | null;
            /** @description The demonstration boat it is a scratch copy of. */
            demo?: string | null;
            /**
             * Format: int64
             * @description Counts every change of the boat, here and outside: a page that saw another asks again.
             */
            changes: number;
            /**
             * Format: int64
             * @description Largest mesh that is taken in, bytes.
             */
            most_mesh_bytes: number;
            /** @description Where new boats are made. */
            boats_folder: string;
        };
        /**
         * @description A side of a clash.
         * @enum {string}
         */
        Side: "mine" | "theirs";
        /**
         * @description How a job stands.
         * @enum {string}
         */
        Stage: "running" | "done" | "failed" | "stopped";
        /** @description A starter hull. */
        StarterView: {
            /** @description As `[hull.starter] type` names it. */
            hull: string;
            /** @description In a sentence. */
            says: string;
        };
        /**
         * @description Which lines.
         * @enum {string}
         */
        StaveKind: "stability" | "flight" | "heat" | "turning";
        /** @description One line over the rail. */
        StaveView: {
            /** @description Stable name: `thrust-needed`. */
            id: string;
            /** @description Lines of one stave share this: `thrust`. */
            stave: string;
            /** @description What it is. */
            label: string;
            /** @description Of the values. */
            unit: string;
            /** @description One for each speed. */
            values: (number | null)[];
            /** @description Lower edge of the 95 % band; empty until the full study is there. */
            low: (number | null)[];
            /** @description Upper edge. */
            high: (number | null)[];
        };
        /** @description Lines over the rail. */
        StavesView: {
            /** @description Of the text they were worked out from. */
            revision: string;
            /** @description Each with speeds of its own. */
            lines: components["schemas"]["Lines"][];
        };
        /** @description One step of a path: a key or a name, or a place in a list from 0. */
        Step: string | number;
        /** @description Everything said about one boat. */
        StudyView: {
            /** @description Of the text it was worked out from. */
            revision: string;
            /** @description Whether variations and adjustments were tried. */
            full: boolean;
            /** @description The builder's name for it. */
            boat: string;
            /** @description `three-point`, `outrigger`, `vee`, `catamaran` or `other`. */
            hull_type: string;
            /** @description All-up. */
            mass: components["schemas"]["NumberView"];
            /** @description What the whole hull floats, for comparison with `mass`. */
            floats: components["schemas"]["NumberView"];
            /** @description Centre of gravity, boat axes. */
            balance: components["schemas"]["BalanceView"];
            /** @description Worst first. */
            findings: components["schemas"]["FindingView"][];
            /** @description Numbers nobody gave. */
            assumptions: components["schemas"]["AssumptionView"][];
            /** @description What the mesh reader found. */
            notices: components["schemas"]["NoticeView"][];
            /** @description Likely variations that were run. */
            variations: number;
            /** @description Those that could not be solved. */
            variations_not_solved: number;
        };
        /** @description A running surface. */
        SurfaceView: {
            /** @description Its name. */
            name: string;
            /** @description Its keel line's angle, bow up positive. */
            angle: components["schemas"]["NumberView"];
            /** @description At the trailing edge. */
            beam: components["schemas"]["NumberView"];
            /** @description Mean of both sides. */
            deadrise: components["schemas"]["NumberView"];
            /** @description On the keel, boat axes, m. */
            trailing_edge_m: number[];
            /** @description Whether it ends in a step. */
            step: boolean;
            /** @description Around it, boat axes, m. */
            outline_m: number[][];
        };
        /** @description A symptom known here. */
        SymptomView: {
            /** @description Names it. */
            id: string;
            /** @description In the builder's words; a job `why` takes it. */
            name: string;
        };
        /** @description One table of the file. */
        TableView: {
            /** @description The way to it from the top. */
            path: components["schemas"]["Step"][];
            /** @description As a heading: `part "Battery"`. */
            title: string;
            /** @description What it describes. */
            doc: string;
            /** @description Whether the file has it. */
            present: boolean;
            /** @description Whether the file may have several. */
            several: boolean;
            /** @description Its keys. */
            keys: components["schemas"]["KeyView"][];
        };
        /** @description What a value looks like. */
        ValueForm: {
            /** @description `quantity`, `count`, `text`, `flag`, `choice`, `file`, `files`, `lengths` or `cells`. */
            what: string;
            /** @description `a length`. */
            kind?: string | null;
            /** @description Accepted units, the trade's first. */
            units: string[];
            /** @description Whether a number without a unit is accepted. */
            bare: boolean;
            /**
             * Format: double
             * @description Least accepted, in the first unit.
             */
            min?: number | null;
            /**
             * Format: double
             * @description Most accepted, in the first unit.
             */
            max?: number | null;
            /** @description Both in words. */
            range?: string | null;
            /** @description Accepted words. */
            words: string[];
            /** @description How many lengths. */
            count?: number | null;
        };
        /** @description How a running surface meets the water. */
        WettedView: {
            /** @description Its name. */
            surface: string;
            /**
             * Format: double
             * @description Along the keel, mm; 0 is clear of the water.
             */
            keel_mm: number;
            /**
             * Format: double
             * @description Along the chine, mm.
             */
            chine_mm: number;
            /**
             * Format: double
             * @description At the trailing edge, mm.
             */
            beam_mm: number;
            /**
             * Format: double
             * @description N.
             */
            lift_n: number;
            /**
             * Format: double
             * @description Its own trim, degrees.
             */
            trim_deg: number;
            /** @description Around the wetted part, boat axes, m; empty when clear. */
            outline_m: number[][];
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    boat: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    settle: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ChoiceAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    new_boat: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewBoat"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SessionView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    boat_from_mesh: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "multipart/form-data": components["schemas"]["MeshSent"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SessionView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    builds: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    keep: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BuildAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    demos: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DemoView"][];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    open_demo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SessionView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    form: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["HullForm"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    mesh: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/octet-stream": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    list: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobView"][];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    start: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["JobAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    job: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    stop: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    events: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/event-stream": components["schemas"]["JobView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    keys: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    learn: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LearnAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    unlearn: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Aside"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    outings: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutingView"][];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    begin: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["OutingAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutingView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    marks: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "text/plain": string;
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RecordingView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    note: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NotesAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutingView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    recording: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/octet-stream": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    take_in: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/octet-stream": string;
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RecordingView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    agree: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ColumnsAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    courses: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/octet-stream": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    frames: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FramesView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    sound_picture: {
        parameters: {
            query?: {
                /** @description First moment, s; the beginning unless given. */
                from?: number;
                /** @description Last moment, s; the end unless given. */
                to?: number;
                /** @description Bottom, Hz; 0 unless given. */
                low?: number;
                /** @description Top, Hz; 4000 unless given. */
                high?: number;
                /** @description Stretches of time, at most 2000; 600 unless given. Up to twice as many come. */
                columns?: number;
                /** @description Bands of frequency, at most 512; 200 unless given. */
                rows?: number;
            };
            header?: never;
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/octet-stream": unknown;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    poses: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
                /** @description `best` (unless given): the full answer if it is there already, else a quick one. */
                depth?: components["schemas"]["DepthAsked"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PosesView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    quantities: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": string[];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    report: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    save: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SaveAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    session: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SessionView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    open_session: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SessionAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SessionView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    starters: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["StarterView"][];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    staves: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
                /** @description `stability` (unless given), `flight`, `heat` or `turning`. */
                what?: components["schemas"]["StaveKind"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["StavesView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    study: {
        parameters: {
            query?: {
                /** @description `saved` or `whatif` (unless given). */
                of?: components["schemas"]["Of"];
                /** @description `best` (unless given): the full answer if it is there already, else a quick one. */
                depth?: components["schemas"]["DepthAsked"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["StudyView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    symptoms: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SymptomView"][];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    edit: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["EditsAsked"];
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    discard: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    redo: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
    undo: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoatView"];
                };
            };
            "4XX": {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Refusal"];
                };
            };
        };
    };
}
