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
        /** Starts a boat from a mesh of one's own, fitted out by common practice and marked so. */
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
        /** Frozen builds side by side: what changed, what was predicted, what happened. */
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
        /**
         * Stops a job. What it has counted so far is its result, where that means something: a job that is stopped comes to
         *     its end within two seconds.
         */
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
        /** Keeps what an outing taught: writes `learned.toml`, which every prediction then carries. */
        post: operations["learn"];
        /** Predicts without what was learned: `learned.toml` is set aside, not deleted. */
        delete: operations["unlearn"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/meshes/look": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** How a mesh would be read: to look at and to turn before a boat is made of it. */
        post: operations["look_at_mesh"];
        delete?: never;
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
        /** Begins an outing; one that is there already stays as it is. */
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
        /** Remembers how this logger's columns are read, and gives the log measured so. */
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
    "/api/outings/{id}/uploads/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How much of a recording is here: where to go on. Whoever was sending it before writes no more. */
        get: operations["come"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        /**
         * Appends to what is here, from `Upload-Offset` on. What came before a connection broke is kept; the last piece makes
         *     it a recording.
         */
        patch: operations["go_on"];
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
    "/api/sizes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Sizes a hull for a load and a speed, and writes it as a new boat folder beside the others: a job, whose result is a
         *     `SizeAnswer`.
         */
        post: operations["size"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sizes/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Opens the boat that a finished size made. */
        post: operations["open_size"];
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
    "/api/strength": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Whether it holds, along its length: a full answer, which takes a second or more. */
        get: operations["strength"];
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
    "/api/worth": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which of the numbers nobody gave move the answers most: a full answer, and a while on top of it. */
        get: operations["worth"];
        put?: never;
        post?: never;
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
        /** @description Whether instruments agree. */
        Agreed: {
            /** @description What each tells. */
            told: components["schemas"]["ToldBy"][];
            /** @description `alone`, `agree`, `odd` or `disagree`. */
            verdict: string;
            /** @description Which is the odd one. */
            odd?: string | null;
            /** @description The same in words. */
            says: string;
        };
        /** @description One recording, measured. */
        Analysis: {
            /** @description File name of the recording. */
            file: string;
            /** @description What it is. */
            kind: components["schemas"]["RecordingKind"];
            /** @description First and last moment on its own clock, s. */
            span_s?: [
                number,
                number
            ] | null;
            /**
             * Format: double
             * @description Start, s since 1970 UTC, where the recording knows it.
             */
            start_unix_s?: number | null;
            /** @description Sentences for the builder, most important first. */
            says: string[];
            /** @description Faults, assumptions, what was passed over. */
            remarks: string[];
            /** @description What was measured. */
            quantities: components["schemas"]["MeasuredValue"][];
            /** @description What happened. */
            events: components["schemas"]["RecordedEvent"][];
            /** @description Courses against time, for plots. */
            traces: components["schemas"]["RecordedTrace"][];
            /** @description Places on the plane, m east and north of the first fix; empty without a track. */
            way_m: [
                number,
                number
            ][];
        };
        /** @description The answer to the [`Ask`] of the same name. */
        Answer: {
            /** @description What the boat will do. */
            is: components["schemas"]["CheckAnswer"];
            /** @enum {string} */
            answer: "check";
        } | {
            /** @description What to change next. */
            is: components["schemas"]["NextAnswer"];
            /** @enum {string} */
            answer: "next";
        } | {
            /** @description How a run goes. */
            is: components["schemas"]["StintAnswer"];
            /** @enum {string} */
            answer: "stint";
        } | {
            /** @description Which set-up is best. */
            is: components["schemas"]["OutfitAnswer"];
            /** @enum {string} */
            answer: "outfit";
        } | {
            /** @description What happens on the pond. */
            is: components["schemas"]["PondAnswer"];
            /** @enum {string} */
            answer: "pond";
        } | {
            /** @description What outings teach. */
            is: components["schemas"]["LearnAnswer"];
            /** @enum {string} */
            answer: "learn";
        } | {
            /** @description What went wrong. */
            is: components["schemas"]["WhyAnswer"];
            /** @enum {string} */
            answer: "why";
        } | {
            /** @description What the boat will do, on a page. */
            is: components["schemas"]["ReportAnswer"];
            /** @enum {string} */
            answer: "report";
        } | {
            /** @description The hull's shape. */
            is: components["schemas"]["HullAnswer"];
            /** @enum {string} */
            answer: "hull";
        } | {
            /** @description What a law says. */
            is: components["schemas"]["CalcAnswer"];
            /** @enum {string} */
            answer: "calc";
        } | {
            /** @description How big, and where things go. */
            is: components["schemas"]["SizeAnswer"];
            /** @enum {string} */
            answer: "size";
        } | {
            /** @description A boat folder from a starter hull or a mesh. */
            is: components["schemas"]["NewAnswer"];
            /** @enum {string} */
            answer: "new";
        } | {
            /** @description What a sound tells. */
            is: components["schemas"]["HearAnswer"];
            /** @enum {string} */
            answer: "hear";
        } | {
            /** @description What a track tells. */
            is: components["schemas"]["TrackAnswer"];
            /** @enum {string} */
            answer: "track";
        } | {
            /** @description What a log tells. */
            is: components["schemas"]["LogAnswer"];
            /** @enum {string} */
            answer: "log";
        } | {
            /** @description What servo pulses tell. */
            is: components["schemas"]["PulsesAnswer"];
            /** @enum {string} */
            answer: "pulses";
        } | {
            /** @description What marks on a film tell. */
            is: components["schemas"]["MarksAnswer"];
            /** @enum {string} */
            answer: "marks";
        } | {
            /** @description How the clocks of recordings stand. */
            is: components["schemas"]["TogetherAnswer"];
            /** @enum {string} */
            answer: "together";
        } | {
            /** @description An outing to begin. */
            is: components["schemas"]["BeginOutingAnswer"];
            /** @enum {string} */
            answer: "begin-outing";
        } | {
            /** @description An outing to measure. */
            is: components["schemas"]["MeasureAnswer"];
            /** @enum {string} */
            answer: "measure";
        } | {
            /** @description The outings there are. */
            is: components["schemas"]["OutingsAnswer"];
            /** @enum {string} */
            answer: "outings";
        } | {
            /** @description A build to keep. */
            is: components["schemas"]["KeepAnswer"];
            /** @enum {string} */
            answer: "keep";
        } | {
            /** @description Builds side by side. */
            is: components["schemas"]["BuildsAnswer"];
            /** @enum {string} */
            answer: "builds";
        } | {
            /** @description What goes where, in which order, on a page. */
            is: components["schemas"]["SheetAnswer"];
            /** @enum {string} */
            answer: "sheet";
        } | {
            /** @description What pieces it prints in, written as files. */
            is: components["schemas"]["PiecesAnswer"];
            /** @enum {string} */
            answer: "pieces";
        };
        /** @description A recording that could not be joined. */
        Apart: {
            /** @description Which. */
            recording: string;
            /** @description Why. */
            why: string;
        };
        /** @description Where what was learned went. */
        Aside: {
            /** @description In the boat folder. */
            file: string;
        };
        /** @description A question with everything it needs but the boat. */
        Ask: {
            /** @description What the boat will do. */
            with: components["schemas"]["CheckAsk"];
            /** @enum {string} */
            ask: "check";
        } | {
            /** @description What to change next. */
            with: components["schemas"]["NextAsk"];
            /** @enum {string} */
            ask: "next";
        } | {
            /** @description How a run goes. */
            with: components["schemas"]["StintAsk"];
            /** @enum {string} */
            ask: "stint";
        } | {
            /** @description Which set-up is best. */
            with: components["schemas"]["OutfitAsk"];
            /** @enum {string} */
            ask: "outfit";
        } | {
            /** @description What happens on the pond. */
            with: components["schemas"]["PondAsk"];
            /** @enum {string} */
            ask: "pond";
        } | {
            /** @description What outings teach. */
            with: components["schemas"]["LearnAsk"];
            /** @enum {string} */
            ask: "learn";
        } | {
            /** @description What went wrong. */
            with: components["schemas"]["WhyAsk"];
            /** @enum {string} */
            ask: "why";
        } | {
            /** @description What the boat will do, on a page. */
            with: components["schemas"]["ReportAsk"];
            /** @enum {string} */
            ask: "report";
        } | {
            /** @description The hull's shape. */
            with: components["schemas"]["HullAsk"];
            /** @enum {string} */
            ask: "hull";
        } | {
            /** @description What a law says. */
            with: components["schemas"]["CalcAsk"];
            /** @enum {string} */
            ask: "calc";
        } | {
            /** @description How big, and where things go. */
            with: components["schemas"]["SizeAsk"];
            /** @enum {string} */
            ask: "size";
        } | {
            /** @description A boat folder from a starter hull or a mesh. */
            with: components["schemas"]["NewAsk"];
            /** @enum {string} */
            ask: "new";
        } | {
            /** @description What a sound tells. */
            with: components["schemas"]["HearAsk"];
            /** @enum {string} */
            ask: "hear";
        } | {
            /** @description What a track tells. */
            with: components["schemas"]["TrackAsk"];
            /** @enum {string} */
            ask: "track";
        } | {
            /** @description What a log tells. */
            with: components["schemas"]["LogAsk"];
            /** @enum {string} */
            ask: "log";
        } | {
            /** @description What servo pulses tell. */
            with: components["schemas"]["PulsesAsk"];
            /** @enum {string} */
            ask: "pulses";
        } | {
            /** @description What marks on a film tell. */
            with: components["schemas"]["MarksAsk"];
            /** @enum {string} */
            ask: "marks";
        } | {
            /** @description How the clocks of recordings stand. */
            with: components["schemas"]["TogetherAsk"];
            /** @enum {string} */
            ask: "together";
        } | {
            /** @description An outing to begin. */
            with: components["schemas"]["BeginOutingAsk"];
            /** @enum {string} */
            ask: "begin-outing";
        } | {
            /** @description An outing to measure. */
            with: components["schemas"]["MeasureAsk"];
            /** @enum {string} */
            ask: "measure";
        } | {
            /** @description The outings there are. */
            with: components["schemas"]["OutingsAsk"];
            /** @enum {string} */
            ask: "outings";
        } | {
            /** @description A build to keep. */
            with: components["schemas"]["KeepAsk"];
            /** @enum {string} */
            ask: "keep";
        } | {
            /** @description Builds side by side. */
            with: components["schemas"]["BuildsAsk"];
            /** @enum {string} */
            ask: "builds";
        } | {
            /** @description What goes where, in which order, on a page. */
            with: components["schemas"]["SheetAsk"];
            /** @enum {string} */
            ask: "sheet";
        } | {
            /** @description What pieces it prints in, written as files. */
            with: components["schemas"]["PiecesAsk"];
            /** @enum {string} */
            ask: "pieces";
        };
        /** @description A number of the heat that nobody gave. */
        Assumed: {
            /** @description Which. */
            what: string;
            /** @description What was taken. */
            number: components["schemas"]["Number"];
            /** @description Why that. */
            why: string;
        };
        /** @description A number nobody gave. */
        Assumption: {
            /** @description Which. */
            what: string;
            /** @description What was taken. */
            number: components["schemas"]["Number"];
            /** @description Why that. */
            why: string;
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
        Balance: {
            /** @description Ahead of the transom. */
            x: components["schemas"]["Number"];
            /** @description To port. */
            y: components["schemas"]["Number"];
            /** @description Above the transom's bottom edge. */
            z: components["schemas"]["Number"];
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
        /**
         * @description What a finding rests on.
         * @enum {string}
         */
        Basis: "statics" | "measured-elsewhere" | "theory-only" | "rule-of-thumb";
        /** @description An outing that was started. */
        BeginOutingAnswer: {
            /** @description The file to fill in. */
            made: string;
            /** @description As asked. */
            date: string;
            /** @description The build that is the boat as it is now; nothing where none is. */
            build?: string | null;
        };
        /** @description Starts an outing: a folder with notes to fill in. One that is there is never touched. */
        BeginOutingAsk: {
            /**
             * @description The day as YYYY-MM-DD, with `-2` or a word behind it for more than one.
             * @default
             */
            date?: string;
            /**
             * @description Where.
             * @default
             */
            place?: string;
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
            problems: components["schemas"]["Place"][];
            /** @description What is tried out, key by key. */
            changed: components["schemas"]["ChangedView"][];
            /** @description Names of steps back, last first. */
            undo: string[];
            /** @description Names of steps forward, next first. */
            redo: string[];
            /** @description What happened to the file outside of the page. */
            outside: components["schemas"]["OutsideView"];
        };
        /** @description How far the hull bends between its ends, frames keeping their shape. */
        BowView: {
            /** @description `landing`. */
            load: string;
            /** @description How far. */
            bow: components["schemas"]["NumberView"];
            /** @description What gives way further, as the end of a sentence. */
            beyond: string;
        };
        /** @description One build. */
        Build: {
            /** @description Its folder's name; nothing for the boat as it is now. */
            name?: string | null;
            /** @description When it was kept. */
            date?: string | null;
            /** @description Why. */
            why?: string | null;
            /** @description From the one before. */
            changed: components["schemas"]["Changed"][];
            /** @description Numbers of its findings. */
            predicted: components["schemas"]["Predicted"][];
            /** @description The best that outings with it measured. */
            measured: components["schemas"]["MeasuredBest"][];
        };
        /** @description A build to freeze. */
        BuildAsked: {
            /** @description Why it changed, in the builder's words. */
            why: string;
        };
        /** @description Builds side by side. */
        BuildsAnswer: {
            /** @description In order; last the boat as it is now, where it is none of them. */
            builds: components["schemas"]["Build"][];
            /** @description What differs between them or was measured. */
            rows: components["schemas"]["Row"][];
        };
        /** @description Sets builds side by side. */
        BuildsAsk: {
            /** @default null */
            now?: components["schemas"]["Effort"] | null;
        };
        /** @description What a law says. */
        CalcAnswer: components["schemas"]["CalcLaws"] | components["schemas"]["CalcNumbers"] | components["schemas"]["CalcLaw"];
        /** @description What does a law say? */
        CalcAsk: {
            /**
             * @description Which; all are listed unless given.
             * @default null
             */
            law?: string | null;
            /**
             * @description `KEY=VALUE` with units as in the boat file; what the law takes is told without.
             * @default []
             */
            inputs?: string[];
        };
        /** @description Something a law takes. */
        CalcInput: {
            /** @description Its key. */
            key: string;
            /** @description The unit it is told in; empty for plain numbers and words. */
            unit: string;
            /** @description Units it may be written in. */
            accepted_units: string;
            /** @description Values it may have, in words. */
            range: string;
            /** @description `required`, `one-of` or `default`. */
            need: string;
            default?: components["schemas"]["CalcValue"] | null;
            /** @description What it is. */
            doc: string;
        };
        /** @description What a law takes and gives. */
        CalcLaw: {
            /** @description Its name. */
            law: string;
            /** @description What it says, in a line. */
            summary: string;
            /** @description What it takes. */
            inputs: components["schemas"]["CalcInput"][];
            /** @description What it gives. */
            outputs: components["schemas"]["CalcOutput"][];
            /** @description Where it was measured, in words. */
            validity: string;
            /** @description What it is checked against. */
            checked: string;
            /** @description Who says so. */
            source: string;
        };
        /** @description Every law. */
        CalcLaws: {
            /** @description Each. */
            laws: components["schemas"]["CalcName"][];
        };
        /** @description A law by name. */
        CalcName: {
            /** @description Its name. */
            law: string;
            /** @description What it says, in a line. */
            summary: string;
        };
        /** @description What a law gives for what it was given. */
        CalcNumbers: {
            /** @description Its name. */
            law: string;
            /** @description What it was given or took, by key. */
            inputs: {
                [key: string]: components["schemas"]["CalcValue"];
            };
            /** @description What it gives, by key. */
            outputs: {
                [key: string]: components["schemas"]["CalcValue"];
            };
            /** @description Unit of each output; empty for plain numbers and words. */
            units: {
                [key: string]: string;
            };
            /** @description Whether it was measured there. */
            in_range: boolean;
            /** @description Where it was measured, in words. */
            validity: string;
            /** @description What should be known. */
            notes: string[];
            /** @description Who says so. */
            source: string;
        };
        /** @description Something a law gives. */
        CalcOutput: {
            /** @description Its key. */
            key: string;
            /** @description The unit it is told in; empty for plain numbers and words. */
            unit: string;
            /** @description What it is. */
            doc: string;
        };
        /** @description A number in its unit, or the word of a choice. */
        CalcValue: number | string;
        /** @description What predictions carry from outings. */
        Carried: {
            /** @description Outings it was learned from. */
            from: string[];
            /** @description What was moved. */
            factors: components["schemas"]["Factor"][];
            /** @description What does not carry to this boat, and why. */
            left_out: string[];
        };
        /** @description A cause. */
        Cause: {
            /** @description Stable name. */
            id: string;
            /** @description In words. */
            cause: string;
            /** @description How likely, in a word. */
            chance: string;
            /**
             * Format: double
             * @description How likely, 0 to 1.
             */
            share: number;
            /** @description What speaks for it. */
            for: components["schemas"]["Clue"][];
            /** @description What speaks against it. */
            against: components["schemas"]["Clue"][];
            /** @description Other symptoms it would explain. */
            also_explains: string[];
            /** @description What to do. */
            try: string;
            /** @description What that does on the model. */
            effect?: string | null;
            /** @description What would decide. */
            measure: string;
            /** @description A caution at the point of use. */
            caution?: string | null;
        };
        /** @description What one build has of it. */
        Cell: {
            predicted?: components["schemas"]["Number"] | null;
            standing?: components["schemas"]["Standing"] | null;
            /** @description The best that was measured of it: `87.1 ± 1.2 km/h`. */
            measured?: string | null;
        };
        /** @description An adjustment and what it does to the finding's number. */
        Change: {
            /** @description What to do: `Battery 10 mm forward`. */
            what: string;
            /** @description What it gives: `top speed 52 km/h becomes 55 km/h`. */
            effect: string;
            /** @description Whether it moves the number the right way. */
            better: boolean;
            /** @description Changes of the boat file that do it; none for what is built rather than set. */
            edits: components["schemas"]["Edit"][];
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
        /** @description A key of the boat file that changed, or a mesh. */
        Changed: {
            /** @description The way to it. */
            key: string;
            /** @description As written in the one before; nothing where it was not there. */
            before?: string | null;
            /** @description As written now; nothing where it is gone. */
            after?: string | null;
        };
        /** @description A key that is tried out. */
        ChangedView: {
            /** @description The way to it. */
            path: components["schemas"]["WayStep"][];
            /** @description In words. */
            what: string;
            /** @description As saved; null where it is new. */
            saved?: unknown;
            /** @description As tried out; null where it is taken away. */
            whatif?: unknown;
        };
        /** @description What the boat will do. */
        CheckAnswer: {
            /** @description The builder's name for it. */
            boat: string;
            /** @description `three-point`, `outrigger`, `vee`, `catamaran` or `hull`. */
            hull_type: string;
            /** @description All-up. */
            mass: components["schemas"]["Number"];
            /** @description Centre of gravity, boat axes. */
            balance: components["schemas"]["Balance"];
            /** @description Numbers to give before anything else, where parts were put in that nobody gave; five at most. */
            give_first: components["schemas"]["Give"][];
            /** @description What a builder asks first, and what to do next. */
            verdict: components["schemas"]["Verdict"];
            /** @description Worst first. */
            findings: components["schemas"]["Finding"][];
            /** @description Numbers nobody gave. */
            assumptions: components["schemas"]["Assumption"][];
            /** @description What was found in the mesh. */
            notices: components["schemas"]["Notice"][];
            /** @description Running states by speed; nothing for a boat that sinks, empty without a drive. */
            speed_curve?: components["schemas"]["State"][] | null;
            /** @description Likely variations behind the spreads. */
            variations: components["schemas"]["Variations"];
            learned?: components["schemas"]["Carried"] | null;
        };
        /** @description What will the boat do? */
        CheckAsk: {
            /**
             * @description How hard to look.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
        };
        /** @description Which side to keep where both changed the same key. */
        ChoiceAsked: {
            /** @description `mine` keeps what is tried out, `theirs` what the file has now. */
            keep: components["schemas"]["Side"];
        };
        /** @description A key changed here and outside. */
        ClashView: {
            /** @description The way to it. */
            path: components["schemas"]["WayStep"][];
            /** @description In words. */
            what: string;
            /** @description As tried out here. */
            mine?: unknown;
            /** @description As in the file now. */
            theirs?: unknown;
        };
        /** @description What speaks for or against a cause. */
        Clue: {
            /** @description `measured` or `model`. */
            by: string;
            /** @description In words. */
            says: string;
            /**
             * Format: double
             * @description How many times likelier it makes the cause.
             */
            times: number;
        };
        /**
         * @description What a column holds. Values are turned into the unit named here.
         * @enum {string}
         */
        ColumnQuantity: "time" | "rpm" | "electrical_rpm" | "voltage" | "current" | "power" | "charge_drawn" | "motor_temperature" | "controller_temperature" | "temperature" | "throttle" | "acceleration_x" | "acceleration_y" | "acceleration_z" | "rate_x" | "rate_y" | "rate_z" | "pitch" | "heel" | "speed" | "latitude" | "longitude" | "course" | "altitude" | "dilution";
        /** @description A column and what it holds. */
        ColumnRead: {
            /** @description As in the file, without its unit. */
            heading: string;
            quantity?: components["schemas"]["ColumnQuantity"] | null;
            /** @description `degF`, `km/h`, `mA`; what the heading says unless given. */
            unit?: string | null;
        };
        /** @description The reading of a log's columns that the builder agrees to. */
        ColumnsAsked: {
            /** @description Columns that are read otherwise than proposed. */
            columns?: components["schemas"]["ColumnRead"][];
        };
        /** @description How far a recording has come. */
        ComingView: {
            /**
             * Format: int64
             * @description Bytes that are here.
             */
            offset: number;
            /** @description Whether that is all. */
            complete: boolean;
            recording?: components["schemas"]["RecordingView"] | null;
        };
        /** @description One quantity, measured and predicted. */
        Compared: {
            /** @description Which. */
            quantity: string;
            /** @description By what it was measured. */
            from: string;
            /** @description On the water. */
            measured: components["schemas"]["Number"];
            /** @description For the same condition. */
            predicted: components["schemas"]["Number"];
            /**
             * Format: double
             * @description How many standard errors of both are between; positive when more was measured.
             */
            apart: number;
            /** @description What to make of that. */
            says: string;
            /** @description Predicted after learning. */
            after: components["schemas"]["Number"];
            /**
             * Format: double
             * @description How far it counted in the fit, 0 to 1.
             */
            weight: number;
            /** @description What was assumed to compare them. */
            assumed?: string | null;
        };
        /** @description How many runs ended. */
        Counted: {
            /** @description Made. */
            runs: number;
            /** @description Bow up and over. */
            flipped: number;
            /** @description Bow under. */
            dived: number;
            /** @description On the side. */
            rolled: number;
            /** @description Clear of the water at least once. */
            left_the_water: number;
            /** @description That could not be followed to their end. */
            not_finished: number;
            /**
             * Format: double
             * @description Share upside down.
             */
            lost: number;
            /**
             * Format: double
             * @description From, by the counting alone (95 %).
             */
            lost_from: number;
            /**
             * Format: double
             * @description To.
             */
            lost_to: number;
        };
        /** @description What a crash does. */
        CrashView: {
            /** @description `into the bank at half speed`. */
            what: string;
            /** @description What breaks first, in words. */
            breaks: string;
            /** @description Whether anything does. */
            broken: boolean;
            /**
             * Format: double
             * @description Where, m ahead of the transom.
             */
            x_m: number;
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
        /** @description One drive at a speed. */
        Drive: {
            /** @description Its name; empty for the only one. */
            drive: string;
            /** @description Of the propeller. */
            shaft_speed: components["schemas"]["Number"];
            /** @description Of the pack. */
            current: components["schemas"]["Number"];
            /** @description Of the pack. */
            voltage: components["schemas"]["Number"];
            /** @description Along the shaft. */
            thrust: components["schemas"]["Number"];
            /** @description Share of the disc under water. */
            immersion: components["schemas"]["Number"];
            /** @description Of the propeller. */
            slip: components["schemas"]["Number"];
        };
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
        /** @description One change of a boat file. */
        Edit: {
            /** @description The way to it. */
            path: components["schemas"]["PathStep"][];
            /** @description What to write. */
            value: components["schemas"]["NewValue"];
            /** @enum {string} */
            action: "set";
        } | {
            /** @description The way to it. */
            path: components["schemas"]["PathStep"][];
            /** @enum {string} */
            action: "remove";
        } | {
            /** @description The way to the list. */
            path: components["schemas"]["PathStep"][];
            /** @description The new table's name. */
            name: string;
            /** @enum {string} */
            action: "add";
        };
        /** @description One edit. */
        EditAsked: {
            /**
             * @description The way to the value: `["part", "Battery", "mass"]`; to a table of a list for `remove`;
             *     to the list itself for `add`.
             */
            path: components["schemas"]["WayStep"][];
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
        /** @description One quantity before and after. */
        Effect: {
            /** @description `top speed`. */
            quantity: string;
            before?: components["schemas"]["Number"] | null;
            after?: components["schemas"]["Number"] | null;
        };
        /** @description A quantity before and after. */
        EffectView: {
            /** @description `top speed`. */
            quantity: string;
            before?: components["schemas"]["NumberView"] | null;
            after?: components["schemas"]["NumberView"] | null;
        };
        /** @description How hard to look. */
        Effort: {
            /**
             * Format: int32
             * @description How many likely variations of the boat to run for the spread.
             * @default 32
             */
            variations?: number;
            /**
             * Format: int64
             * @description Seed of the variations: the same seed gives the same answer to the byte.
             * @default 1
             */
            seed?: number;
        };
        /**
         * @description What happened.
         * @enum {string}
         */
        EventKind: "launch" | "throttle_cut" | "pass" | "marked";
        /** @description An uncertain number that was learned. */
        Factor: {
            /** @description Which. */
            name: string;
            /** @description The part it belongs to. */
            of: string;
            /** @description Before anything was measured. */
            before: components["schemas"]["Number"];
            /** @description With what was measured. */
            after: components["schemas"]["Number"];
        };
        /** @description One line of the why: a label and a value. */
        Figure: {
            /** @description What it is. */
            label: string;
            /** @description Its value with unit. */
            value: string;
        };
        /** @description A label and a value. */
        FigureView: {
            /** @description What it is. */
            label: string;
            /** @description With unit. */
            value: string;
        };
        /** @description One finding. */
        Finding: {
            /** @description Stable name, for scripts: `floats`, `hump`, `top-speed`. */
            id: string;
            /** @description How it stands. */
            standing: components["schemas"]["Standing"];
            /** @description One sentence a builder would say. */
            sentence: string;
            number?: components["schemas"]["Number"] | null;
            limit?: components["schemas"]["Limit"] | null;
            /** @description What it rests on. */
            basis: components["schemas"]["Basis"];
            /** @description How it comes about. */
            why: string;
            /** @description The figures behind the why. */
            figures: components["schemas"]["Figure"][];
            /** @description The few adjustments with the greatest effect, best first. */
            changes: components["schemas"]["Change"][];
            /** @description A caution for whoever is about to touch the thing. */
            caution?: string | null;
        };
        /** @description One finding. */
        FindingView: {
            /** @description Stable name. */
            id: string;
            /** @description `stop`, `watch`, `unsure` or `good`; `pending` where a quick answer cannot tell: nothing else is said then. */
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
        /** @description A builder's mesh, judged for the load. */
        FittedMesh: {
            /** @description What was guessed of the file: unit, direction, origin, type. */
            guessed: string[];
            /** @description How much the whole hull would be scaled for the load; 100 % where it is right as it is. */
            scale: components["schemas"]["Number"];
            deck?: components["schemas"]["Number"] | null;
            /** @description How wide each pad is and would have to be. */
            pad_width?: components["schemas"]["Number"][] | null;
            /** @description The same in words. */
            words: string[];
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
            at_path: components["schemas"]["WayStep"][];
        };
        /** @description A fix that was left out. */
        FixLeftOut: {
            /** @description Its place in the file. */
            fix: number;
            /**
             * Format: double
             * @description When.
             */
            time_s: number;
            /** @description Why. */
            reason: string;
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
        /** @description A number to give. */
        Give: {
            /** @description What a builder calls it. */
            what: string;
            /** @description What was taken meanwhile. */
            taken: string;
            /** @description Where it stands in the boat file: `[drive.motor] kv`. */
            place: string;
        };
        /** @description What the throttle does. */
        Hands: {
            /** @description `flat-out`, `heat`, `sprint` or `cruise`. */
            named: string;
        } | {
            /** @description A table with time and throttle, and speed if it was measured. */
            table: components["schemas"]["TextAt"];
        };
        /** @description Something that happened. */
        Happened: {
            /** @description What. */
            what: components["schemas"]["What"];
            /** @description When. */
            time: components["schemas"]["Number"];
            /** @description How fast it ran. */
            speed: components["schemas"]["Number"];
            period?: components["schemas"]["Number"] | null;
            height?: components["schemas"]["Number"] | null;
        };
        /** @description What a sound told. */
        HearAnswer: components["schemas"]["Analysis"] & {
            /** @description How it was stored. */
            format: string;
            /**
             * Format: int32
             * @description Samples a second.
             */
            rate_hz: number;
            /** @description How many. */
            channels: number;
            /** @description Tones that stand out of the noise. */
            tones: components["schemas"]["HeardTone"][];
            /** @description Shafts that explain them. */
            shafts: components["schemas"]["HeardShaft"][];
            /** @description Times the boat went by. */
            passes: components["schemas"]["HeardBy"][];
            /**
             * Format: double
             * @description Share of samples at full scale.
             */
            clipped_part: number;
            /**
             * Format: int64
             * @description Gaps in the recording.
             */
            dropouts: number;
        };
        /**
         * @description What does a recording of the boat's sound tell? What is not given comes from the boat, and from the notes of the
         *     outing the recording lies in.
         */
        HearAsk: {
            /**
             * @description The recording.
             * @default
             */
            file?: string;
            /**
             * Format: int32
             * @description Blades of the propeller.
             * @default null
             */
            blades?: number | null;
            /**
             * Format: int32
             * @description Magnet poles of the motor.
             * @default null
             */
            poles?: number | null;
            /**
             * Format: double
             * @description Motor turns for one of the propeller.
             * @default null
             */
            gear?: number | null;
            /** @default null */
            air_temperature_c?: components["schemas"]["Measured"] | null;
            /** @default null */
            closest_m?: components["schemas"]["Measured"] | null;
            /**
             * @description Lowest and highest speed of the shaft that can be, rad/s.
             * @default null
             */
            shaft_rad_s?: [
                number,
                number
            ] | null;
            /**
             * @description The boat does not move: on the bench, or held.
             * @default null
             */
            still?: boolean | null;
            /**
             * @description One channel, from 0, instead of the mean of all.
             * @default null
             */
            channel?: number | null;
            /**
             * Format: double
             * @description First moment to listen to, s.
             * @default null
             */
            from_s?: number | null;
            /**
             * Format: double
             * @description Last one, s.
             * @default null
             */
            to_s?: number | null;
        };
        /** @description One time the boat went by. */
        HeardBy: {
            /**
             * Format: double
             * @description About when, s.
             */
            near_s: number;
            /** @description Place among the shafts. */
            shaft: number;
            /** @description Why nothing could be fitted. */
            why?: string | null;
            frequency_hz?: components["schemas"]["Measured"] | null;
            time_s?: components["schemas"]["Measured"] | null;
            /**
             * Format: double
             * @description How badly the curve fits.
             */
            misfit?: number | null;
            /** @description What the fitted pass sounds like: times (s) and Hz; empty where its distance is not known. */
            curve?: [
                number,
                number
            ][] | null;
        };
        /** @description A tone of a shaft. */
        HeardMember: {
            /** @description Place among the tones. */
            tone: number;
            /**
             * Format: int32
             * @description How many times the base.
             */
            order: number;
        };
        /** @description A shaft and the tones it makes. */
        HeardShaft: {
            /** @description Its tones. */
            members: components["schemas"]["HeardMember"][];
            /** @description What their common base may be. */
            readings: components["schemas"]["ShaftReading"][];
            /** @description `by_ratios`, `by_range`, `assumed_blade_rate` or `open`. */
            settled: string;
        };
        /** @description A tone that stands out. */
        HeardTone: {
            /**
             * Format: double
             * @description Its beginning, s.
             */
            from_s: number;
            /**
             * Format: double
             * @description Its end, s.
             */
            to_s: number;
            /**
             * Format: double
             * @description Its usual frequency.
             */
            frequency_hz?: number | null;
            /**
             * Format: double
             * @description How loud against the noise.
             */
            over_noise?: number | null;
            /**
             * Format: double
             * @description Natural logarithm of the chance that noise does this.
             */
            ln_chance: number;
            /** @description Time (s) and frequency (Hz), thinned. */
            points: [
                number,
                number
            ][];
        };
        /** @description Of likely variations. */
        Helps: {
            /** @description So many. */
            boats: number;
            /** @description Of so many that were tried. */
            of: number;
        };
        /** @description The hull's shape. */
        HullAnswer: {
            /** @description In words. */
            shape: string;
            /** @description Overall. */
            length: components["schemas"]["Number"];
            /** @description Overall. */
            beam: components["schemas"]["Number"];
            /** @description Of the outside. */
            volume: components["schemas"]["Number"];
            /** @description Of the outside. */
            triangles: number;
            /** @description What the reader found. */
            notices: components["schemas"]["Notice"][];
            /** @description By the names that `[[hull.running]]` uses. */
            running_surfaces: components["schemas"]["Surface"][];
            /** @description Along the length. */
            sections: components["schemas"]["Section"][];
        };
        /** @description What is the hull's shape? */
        HullAsk: {
            /**
             * Format: int32
             * @description So many sections along the length.
             * @default 0
             */
            stations?: number;
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
        /** @description A hop, turn or landing beside the boat in motion. */
        InMotion: {
            /** @description Which. */
            quantity: string;
            /** @description By what it was measured. */
            from: string;
            /** @description On the water. */
            measured: components["schemas"]["Number"];
            lowest?: components["schemas"]["Number"] | null;
            highest?: components["schemas"]["Number"] | null;
            /** @description Whether they agree, where that can be told. */
            agree?: boolean | null;
            /** @description In words. */
            says: string;
        };
        /** @description A moment of a run. */
        Instant: {
            /**
             * Format: double
             * @description s.
             */
            time_s: number;
            /**
             * Format: double
             * @description 0 to 1.
             */
            throttle: number;
            /**
             * Format: double
             * @description km/h.
             */
            speed_km_h: number;
            /**
             * Format: double
             * @description From the pack, A.
             */
            current_a: number;
            /**
             * Format: double
             * @description Of the pack, V.
             */
            voltage_v: number;
            /**
             * Format: double
             * @description Left in the pack, 0 to 1.
             */
            charge: number;
            /**
             * Format: double
             * @description Cooling water, l/min.
             */
            water_l_min: number;
            /** @description Of each part, °C. */
            temperature_c: {
                [key: string]: number;
            };
        };
        /** @description Instruments against each other. */
        Instruments: {
            /** @description That tell speed. */
            speed: components["schemas"]["Agreed"];
            /** @description That tell the propeller's. */
            propeller_speed: components["schemas"]["Agreed"];
            /** @description A logger that seems to count another number of pole pairs. */
            pole_doubt?: string | null;
        };
        /** @description One answer. */
        Item: {
            /** @description The finding that tells more. */
            id: string;
            /** @description `tops out`. */
            label: string;
            /** @description `88 ± 15 km/h`. */
            text: string;
            /** @description `late 79 km/h`, `right`: what stands beside it. */
            beside?: string | null;
            number?: components["schemas"]["Number"] | null;
            /** @description How it stands. */
            standing: components["schemas"]["Standing"];
        };
        /** @description One answer. */
        ItemView: {
            /** @description The finding that tells more. */
            id: string;
            /** @description `tops out at`. */
            label: string;
            number?: components["schemas"]["NumberView"] | null;
            /** @description What to say: the number with its spread, or why there is none. */
            text: string;
            /** @description What stands beside it: `late 79 km/h`, `motor`. */
            beside?: string | null;
            /** @description `stop`, `watch`, `unsure` or `good`; `pending` where a quick answer cannot tell. */
            standing: string;
        };
        /** @description Work to start. */
        JobAsked: {
            /** @description Of which text: `saved` or `whatif` (unless given). Outings, builds and meshes are the folder's for both. */
            of?: components["schemas"]["Of"];
            /** @description What to work out. Files it names are of the boat folder: `outings/2026-05-17/run-1.wav`. */
            question: components["schemas"]["Ask"];
        };
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
            /** @description What should be known beside the result. */
            remarks: string[];
            result?: components["schemas"]["Answer"] | null;
        };
        /** @description A joint. */
        JointTold: {
            /** @description `x` or `y`: the axis its plane stands square to. */
            across: string;
            /** @description Along that axis. */
            at: components["schemas"]["Number"];
            /** @description `lap`, `flange` or `butt`. */
            kind: string;
            /** @description Whether the boat file asked for it. */
            asked: boolean;
            /** @description Dowels, each a diameter. */
            dowels: components["schemas"]["Number"][];
            /** @description What the cut could not keep off. */
            through: string[];
            /** @description Share of the hull's greatest bending there. */
            bending: components["schemas"]["Number"];
        };
        /** @description A build that was frozen. */
        KeepAnswer: {
            /** @description Where it lies. */
            kept: string;
            /** @description Its folder's name. */
            name: string;
            /**
             * Format: int32
             * @description From 1.
             */
            number: number;
            /** @description As asked. */
            why: string;
        };
        /** @description Freezes the saved boat as a build: its file, its meshes, what is predicted of them, and why. */
        KeepAsk: {
            /**
             * @description Why it is kept, or what was changed for it.
             * @default
             */
            why?: string;
            /**
             * @description How hard to look at what is predicted.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
        };
        /** @description One key. */
        KeyView: {
            /** @description The way to it from the top. */
            path: components["schemas"]["WayStep"][];
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
        /** @description What is known of what goes on a mesh; common practice takes the place of the rest. */
        Known: {
            /**
             * Format: double
             * @description Hull and everything on it, kg.
             * @default null
             */
            all_up_kg?: number | null;
            /**
             * Format: int32
             * @description Cells in series of each pack.
             * @default null
             */
            cells?: number | null;
            /**
             * Format: double
             * @description Top speed wished for, m/s.
             * @default null
             */
            speed_m_s?: number | null;
        };
        /** @description What outings teach. */
        LearnAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description Outings, as they are named. */
            outings: string[];
            /** @description Build they were run with, unless the boat as it is now. */
            build?: string | null;
            /** @description What the day was like, as the model was given it. */
            day: string[];
            /** @description Measured beside predicted. */
            rows: components["schemas"]["Compared"][];
            /** @description Instruments against each other. */
            instruments: components["schemas"]["Instruments"];
            /** @description Uncertain numbers, before and after. */
            factors: components["schemas"]["Moved"][];
            /** @description Pairs of numbers the recordings do not tell apart. */
            not_told_apart: components["schemas"]["Tied"][];
            /** @description Hops, turns and landings beside the boat in motion. */
            in_motion: components["schemas"]["InMotion"][];
            /** @description What was measured and not held against the model. */
            passed_over: components["schemas"]["PassedOver"][];
            carries?: components["schemas"]["Carried"] | null;
            /** @description Whether there is anything to keep. */
            worth_keeping: boolean;
            /** @description Where it was written. */
            written?: string | null;
            /** @description Where what was there before went. */
            moved?: string | null;
        };
        /** @description What do outings teach about the boat? */
        LearnAsk: {
            /**
             * @description Outings as their folders are named, fitted together; the latest that is measured when empty.
             * @default []
             */
            outing?: string[];
            /**
             * @description Write what was learned to learned.toml; predictions then carry it.
             * @default false
             */
            keep?: boolean;
        };
        /** @description What to learn from. */
        LearnAsked: {
            /** @description The outing. */
            outing: string;
        };
        /** @description What would change it. */
        LeverView: {
            /** @description In words. */
            what: string;
            /**
             * Format: double
             * @description The worst margin of the hull then, times.
             */
            hull: number;
            /**
             * Format: double
             * @description The worst margin of its joints then.
             */
            joints?: number | null;
            /**
             * Format: double
             * @description The worst margin of its panels then.
             */
            panels?: number | null;
        };
        /** @description What the number is held against. */
        Limit: {
            at_least?: components["schemas"]["Number"] | null;
            at_most?: components["schemas"]["Number"] | null;
            /** @description Who says so. */
            says: string;
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
        /** @description The most one part bore. */
        Load: {
            /** @description Which. */
            element: string;
            /**
             * Format: double
             * @description N.
             */
            force_n: number;
            /**
             * Format: double
             * @description When, s.
             */
            time_s: number;
        };
        /** @description What a log told. */
        LogAnswer: components["schemas"]["Analysis"] & {
            /** @description How its columns are read. */
            mapping: components["schemas"]["LogMapping"];
            /** @description What does not fit together. */
            doubts: string[];
            /** @description How many. */
            rows: number;
            /** @description Between columns. */
            separator: string;
            /** @description Whether numbers have a comma. */
            decimal_comma: boolean;
            /** @description File in which the reading is remembered. */
            remembered?: string | null;
        };
        /** @description What does a log tell, and what do its columns hold? */
        LogAsk: {
            /**
             * @description The log.
             * @default
             */
            file?: string;
            /**
             * @description Columns that are read otherwise than proposed.
             * @default []
             */
            columns?: components["schemas"]["ColumnRead"][];
            /**
             * @description Remember this reading for the same logger.
             * @default false
             */
            confirm?: boolean;
            /**
             * Format: double
             * @description Shaft speed at full throttle known from elsewhere, such as sound, rad/s.
             * @default null
             */
            shaft_rad_s?: number | null;
        };
        /** @description A proposed or confirmed reading of one column. */
        LogColumn: {
            /** @description Column, from 0. */
            column: number;
            /** @description Its heading. */
            heading: string;
            /** @description What it holds. */
            quantity: components["schemas"]["ColumnQuantity"];
            /**
             * Format: double
             * @description Value = cell times this ...
             */
            factor: number;
            /**
             * Format: double
             * @description ... plus this.
             */
            offset: number;
            /**
             * Format: double
             * @description 0 to 1.
             */
            confidence: number;
            /** @description Why, and what was assumed. */
            reason: string;
        };
        /** @description Readings of a log's columns. */
        LogMapping: {
            /** @description Fingerprint of the headings it was made for. */
            fingerprint: string;
            /** @description Columns that are read; others are left alone. */
            columns: components["schemas"]["LogColumn"][];
            /** @description The builder has agreed. */
            confirmed: boolean;
        };
        /** @description Strength over stress of one thing under one load. */
        MarginView: {
            /** @description `hull`, `joint`, `root`, `panel`, `bracket` or `steady`. */
            of: string;
            /** @description `lap joint at 155 mm`. */
            place: string;
            /** @description `landing`. */
            load: string;
            /**
             * Format: double
             * @description Ahead of the transom, m.
             */
            x_m: number;
            /** @description Strength over stress, times. */
            holds: components["schemas"]["NumberView"];
            /** @description What it bears. */
            stress: components["schemas"]["NumberView"];
            /** @description What it can bear. */
            strength: components["schemas"]["NumberView"];
        };
        /** @description What marks told. */
        MarksAnswer: components["schemas"]["Analysis"];
        /** @description What do marks on a film tell? */
        MarksAsk: {
            /**
             * @description The marks.
             * @default
             */
            file?: string;
            /**
             * @description The film; the one the marks name, beside them, unless given.
             * @default null
             */
            film?: string | null;
        };
        /** @description What an outing's recordings measured. */
        MeasureAnswer: components["schemas"]["MeasuredOuting"] & {
            /** @description Where it was written. */
            written: string;
        };
        /** @description Measures the recordings of an outing and writes its `measured.json`; recordings are never altered. */
        MeasureAsk: {
            /**
             * @description The outing, as its folder is named.
             * @default
             */
            outing?: string;
        };
        /** @description Something worth measuring. */
        MeasureNext: {
            /** @description What, and how. */
            what: string;
            /** @description What it moves the hottest part by, K. */
            hottest: components["schemas"]["Number"];
            /** @description What it moves the time on the pack by. */
            time: components["schemas"]["Number"];
        };
        /** @description A value with its standard uncertainty (one sigma), both in the unit of the field that holds it. */
        Measured: {
            /**
             * Format: double
             * @description Best estimate.
             */
            value: number;
            /**
             * Format: double
             * @description Standard uncertainty: the truth lies within one of these about two times in three.
             */
            sigma: number;
        };
        /** @description The best of a quantity that was measured. */
        MeasuredBest: {
            /** @description On which outing. */
            outing: string;
            /** @description What. */
            quantity: components["schemas"]["MeasuredValue"];
            /** @description In words. */
            says: string;
        };
        /** @description Recording and method. */
        MeasuredBy: {
            /** @description File name of the recording. */
            recording: string;
            /** @description Method in plain words: `sound, fly-by`, `track, receiver's speed`. */
            method: string;
            /**
             * Format: int32
             * @description Which of several of a kind, from 1: the second motor heard is 2.
             */
            which?: number | null;
        };
        /** @description What the boat was doing; unknown where the recording does not tell. */
        MeasuredCondition: {
            /** @description How it moved. */
            motion: components["schemas"]["MeasuredMotion"];
            /**
             * Format: double
             * @description Throttle, 0 to 1.
             */
            throttle?: number | null;
            /**
             * Format: double
             * @description Speed in the same window, m/s.
             */
            speed_m_s?: number | null;
        };
        /**
         * @description What a boat is doing.
         * @enum {string}
         */
        MeasuredMotion: "unknown" | "at_rest" | "launch" | "straight" | "turn_to_port" | "turn_to_starboard" | "airborne" | "whole";
        /** @description Everything measured on one outing. */
        MeasuredOuting: {
            /**
             * Format: int32
             * @description [`FORMAT`].
             */
            format: number;
            /** @description Day, as the folder is named: `2026-05-17`. */
            date: string;
            /** @description Build that was run, as in `builds/`; `None` for the boat as it is now. */
            build?: string | null;
            /** @description The recordings are made up, not taken on the water. */
            invented?: boolean;
            /** @description Recordings of the outing, by file name. */
            recordings: components["schemas"]["OutingRecording"][];
            /** @description What they measured. */
            quantities: components["schemas"]["MeasuredValue"][];
            /** @description What happened, each on its recording's own clock. */
            events: components["schemas"]["RecordedEvent"][];
            /** @description Each recording's clock against the first of them that could be joined. */
            clocks: components["schemas"]["SharedClock"][];
        };
        /**
         * @description How a value stands for its time.
         * @enum {string}
         */
        MeasuredStatistic: "steady" | "best_held" | "peak" | "least" | "two_way" | "total" | "last";
        /**
         * @description Units of `measured.json`.
         * @enum {string}
         */
        MeasuredUnit: "m/s" | "rad/s" | "A" | "V" | "W" | "C" | "degC" | "1" | "rad" | "Hz" | "m/s2" | "m" | "s";
        /** @description One measured value. */
        MeasuredValue: {
            /** @description What it is. */
            kind: components["schemas"]["QuantityKind"];
            /**
             * Format: double
             * @description Best estimate.
             */
            value: number;
            /**
             * Format: double
             * @description Standard uncertainty, same unit.
             */
            sigma: number;
            /** @description Unit of both; always that of the kind. */
            unit: components["schemas"]["MeasuredUnit"];
            /** @description How the value stands for its time: an extreme is no mean. */
            statistic: components["schemas"]["MeasuredStatistic"];
            /** @description Where it comes from. */
            from: components["schemas"]["MeasuredBy"];
            window?: components["schemas"]["MeasuredWindow"] | null;
            /** @description What the boat was doing. */
            condition: components["schemas"]["MeasuredCondition"];
            /** @description What must be known to use it: an assumption, a doubt. */
            remark?: string | null;
        };
        /** @description A time window on the recording's own clock. */
        MeasuredWindow: {
            /**
             * Format: double
             * @description First moment, s.
             */
            from_s: number;
            /**
             * Format: double
             * @description Last moment, s.
             */
            to_s: number;
        };
        /** @description A mesh as it would be read; nothing is kept. */
        MeshLook: {
            /** @description The axis of the file that points to the bow, as found or as said: `+x`. */
            forward: string;
            /** @description The axis of the file that points up. */
            up: string;
            /** @description What hull it is by its running surfaces; nothing where that cannot be told. */
            hull?: string | null;
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
            /**
             * Format: double
             * @description m.
             */
            height_m: number;
            /** @description Names of the running surfaces that were found. */
            surfaces: string[];
            /** @description What was found in it and guessed of it. */
            notices: components["schemas"]["NoticeView"][];
            /** @description Cross-sections, stern first. */
            sections: components["schemas"]["SectionView"][];
        };
        /** @description A mesh to start a boat from. */
        MeshSent: {
            /** @description The builder's name for the boat; the file's name unless given. */
            name?: string | null;
            /** @description `three-point`, `outrigger`, `vee` or `catamaran`; as its shape tells it unless given. */
            hull?: string | null;
            /** @description `mm`, `cm`, `m` or `in`; by its size unless given. */
            unit?: string | null;
            /** @description Axis of the file that points to the bow: `+x`; by its shape unless given. */
            forward?: string | null;
            /** @description Axis of the file that points up; by its shape unless given. */
            up?: string | null;
            /**
             * Format: double
             * @description Hull and everything on it, kg; common practice unless given.
             */
            all_up_kg?: number | null;
            /**
             * Format: int32
             * @description Cells in series of each pack.
             */
            cells?: number | null;
            /**
             * Format: double
             * @description Top speed wished for, m/s.
             */
            speed_m_s?: number | null;
            /**
             * Format: binary
             * @description STL, 3MF or OBJ.
             */
            file: string;
        };
        /** @description An uncertain number, before and after. */
        Moved: {
            /** @description Which. */
            name: string;
            /** @description Before measuring. */
            before: components["schemas"]["Number"];
            /** @description After. */
            after: components["schemas"]["Number"];
            /** @description Whether the measurements tell anything about it. */
            told: boolean;
            /** @description Whether it can be kept; else it is better measured. */
            kept: boolean;
        };
        /** @description The part nearest to its limit. */
        Nearest: {
            /** @description Which. */
            part: string;
            /** @description How hot it got. */
            hottest: components["schemas"]["Number"];
        };
        /** @description What was made. */
        NewAnswer: {
            /** @description The boat file. */
            made: string;
            /** @description As asked, or as found. */
            hull_type: string;
            /** @description Of the boat. */
            name: string;
            /** @description Numbers to give first, since everything on a mesh was put in by common practice. */
            give_first: components["schemas"]["Give"][];
            /** @description What was guessed of a mesh: size, type, unit, direction. */
            guessed: string[];
        };
        /** @description Makes a boat folder from a starter hull or a mesh. */
        NewAsk: {
            /** @description Folder to make; it must not exist, or be empty. */
            dir: string;
            /** @description `three-point`, `outrigger`, `vee` or `catamaran`; for a mesh it may be left out, since its shape tells it. */
            hull?: string | null;
            /** @description Name of the boat; the folder's name unless given. */
            name?: string | null;
            /** @description The builder's own mesh, copied into the folder. */
            mesh?: string | null;
            /** @description How it is to be read. */
            read_as?: components["schemas"]["ReadAs"];
            /** @description What is known of what goes on it. */
            known?: components["schemas"]["Known"];
        };
        /** @description A boat to start. */
        NewBoat: {
            /** @description The builder's name for it; the folder is named after it. */
            name: string;
            /** @description A starter hull: see GET /api/starters. */
            hull: string;
        };
        /** @description What to write; in JSON as itself. */
        NewValue: string | string[] | boolean | number;
        /** @description The one thing to try. */
        Next: {
            /** @description Stable name of the cause. */
            cause: string;
            /** @description What to do. */
            try: string;
            /** @description What that does on the model. */
            effect?: string | null;
            /** @description What would decide. */
            measure: string;
            /** @description A caution at the point of use. */
            caution?: string | null;
        };
        /** @description What to change, best first. */
        NextAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description As it is. */
            verdict: components["schemas"]["Verdict"];
            /** @description Single changes, best first; empty where nothing that was tried is worth it, or other parts were asked about. */
            steps: components["schemas"]["Step"][];
            together?: components["schemas"]["Together"] | null;
            with?: components["schemas"]["With"] | null;
            learned?: components["schemas"]["Carried"] | null;
        };
        /** @description What do I change next? */
        NextAsk: {
            /**
             * @description How hard to look.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
            /**
             * @description Other parts to try instead, each `cells=4S`, `kv=2600 rpm/V` and so on ([`WITH`]); nothing asks for changes.
             * @default []
             */
            with?: string[];
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
        /** @description The notes of an outing as they are written, for showing. */
        Noted: {
            /**
             * @description Where.
             * @default null
             */
            place?: string | null;
            /**
             * @description In the builder's words.
             * @default null
             */
            water?: string | null;
            /**
             * @description With its unit.
             * @default null
             */
            water_temperature?: string | null;
            /**
             * @description With its unit.
             * @default null
             */
            air_temperature?: string | null;
            /**
             * @description In the builder's words.
             * @default null
             */
            wind?: string | null;
            /**
             * @description Which build ran; nothing for the boat as it is.
             * @default null
             */
            build?: string | null;
            /**
             * @description In the builder's words.
             * @default null
             */
            what_happened?: string | null;
            /**
             * @description What is said of single recordings.
             * @default []
             */
            recording?: components["schemas"]["NotedRecording"][];
        };
        /** @description What is said of a recording. */
        NotedRecording: {
            /**
             * @description Its name.
             * @default
             */
            file?: string;
            /**
             * @description What it is, where its file does not tell.
             * @default null
             */
            kind?: string | null;
            /**
             * @description Whether it is left out of what the outing measures.
             * @default false
             */
            skip?: boolean;
            /**
             * @description Whether the boat did not move.
             * @default false
             */
            still?: boolean;
            /**
             * @description Distance of the pass, with its unit.
             * @default null
             */
            closest?: string | null;
            /**
             * @description With its unit.
             * @default null
             */
            lowest_rpm?: string | null;
            /**
             * @description With its unit.
             * @default null
             */
            highest_rpm?: string | null;
            /**
             * @description From 0.
             * @default null
             */
            channel?: number | null;
            /**
             * @description First moment, with its unit.
             * @default null
             */
            from?: string | null;
            /**
             * @description Last one, with its unit.
             * @default null
             */
            to?: string | null;
            /**
             * @description From 0.
             * @default null
             */
            level_column?: number | null;
            /**
             * Format: double
             * @description Hz.
             * @default null
             */
            sample_rate?: number | null;
        };
        /** @description What to write into an outing's notes. */
        NotesAsked: {
            /** @description One after the other; all or none are written. */
            notes: components["schemas"]["Note"][];
        };
        /** @description Something the mesh reader found. */
        Notice: {
            /** @description Whether answers may be wrong because of it. */
            serious: boolean;
            /** @description A sentence. */
            text: string;
        };
        /** @description Something the mesh reader found. */
        NoticeView: {
            /** @description Whether answers may be wrong because of it. */
            serious: boolean;
            /** @description A sentence. */
            text: string;
        };
        /** @description A value with its spread and unit. */
        Number: {
            /**
             * Format: double
             * @description In `unit`, to six digits; nothing where it could not be worked out.
             */
            value?: number | null;
            /**
             * Format: double
             * @description Half-width of the 95 % interval, in `unit`; 0 when it was not estimated.
             */
            spread?: number | null;
            /** @description As the trade writes it; empty for a plain number. */
            unit: string;
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
        /** @description How often it ends upside down. */
        OddsAt: {
            /** @description At this speed. */
            speed: components["schemas"]["Number"];
            /** @description Over this ripple. */
            ripple: components["schemas"]["Number"];
            /** @description Each run. */
            seconds: components["schemas"]["Number"];
            /** @description Counted, flat out whatever happens. */
            count: components["schemas"]["Counted"];
            /** @description The same seeds with a driver who lifts off when it must. */
            lifting: components["schemas"]["Counted"];
            /** @description What differs from the run that is shown, in words; empty where only the seeds do. */
            differs: string[];
        };
        /**
         * @description Which of the two texts.
         * @enum {string}
         */
        Of: "saved" | "whatif";
        /** @description Set-ups compared. */
        OutfitAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description How many. */
            compared: number;
            /** @description Beyond this speed drag is extrapolated. */
            drag_known_to: components["schemas"]["Number"];
            /** @description The boat as it is, with the numbers of `check`. */
            present: components["schemas"]["SetUp"];
            /** @description How many of them break nothing. */
            sound: number;
            /** @description Best first. */
            set_ups: components["schemas"]["SetUp"][];
            /** @description How to treat lithium packs. */
            care: string[];
            learned?: components["schemas"]["Carried"] | null;
        };
        /** @description Which set-up is best? */
        OutfitAsk: {
            /**
             * @description What to put first among the sound ones.
             * @default speed
             */
            wish?: components["schemas"]["Wish"];
            /**
             * @description Fewest and most cells in series to try; one less to two more unless given.
             * @default null
             */
            cells?: [
                number,
                number
            ] | null;
            /** @default null */
            own?: components["schemas"]["TextAt"] | null;
            /**
             * Format: int32
             * @description Tell so many.
             * @default 20
             */
            rows?: number;
        };
        /** @description An outing to begin. */
        OutingAsked: {
            /** @description `2026-05-17`, or that with `-2`. */
            id: string;
            /** @description Text of its `outing.toml`; one to fill in unless given. */
            text?: string;
        };
        /** @description An outing in a line. */
        OutingLine: {
            /** @description As its folder is named. */
            date: string;
            /** @description Where. */
            place: string;
            /** @description In the builder's words. */
            water: string;
            /** @description Which build ran; nothing for the boat as it is. */
            build?: string | null;
            /** @description Not taken on the water. */
            invented: boolean;
            /** @description In the builder's words. */
            what_happened: string;
            /** @description How many values were measured; nothing before that. */
            values?: number | null;
        };
        /** @description One recording and what became of it. */
        OutingRecording: {
            /** @description File name within the outing's folder. */
            file: string;
            /** @description What it is. */
            kind: components["schemas"]["RecordingKind"];
            /**
             * Format: int64
             * @description Size, bytes.
             */
            bytes: number;
            /** @description SHA-256 of its bytes, hexadecimal: proof that it is the one measured. */
            sha256: string;
            /** @description First and last moment on its own clock, s. */
            span_s?: [
                number,
                number
            ] | null;
            /**
             * Format: double
             * @description Start, s since 1970 UTC, where the recording knows it.
             */
            start_unix_s?: number | null;
            /** @description What is to be known about it: faults, assumptions, what was passed over. */
            remarks?: string[];
            /** @description Why nothing (more) could be measured on it. */
            trouble?: string | null;
        };
        /** @description A day on the pond. */
        OutingView: {
            /** @description Names it; usually a date. */
            id: string;
            /** @description `outing.toml` as written. */
            text: string;
            notes?: components["schemas"]["Noted"] | null;
            /** @description What is wrong with it. */
            problems: components["schemas"]["Place"][];
            measured?: components["schemas"]["MeasuredOuting"] | null;
            /** @description Everything else in the folder. */
            recordings: components["schemas"]["RecordingView"][];
        };
        /** @description The outings of a boat, by name. */
        OutingsAnswer: {
            /** @description One a day. */
            outings: components["schemas"]["OutingLine"][];
        };
        /** @description Lists the outings of a boat. */
        OutingsAsk: Record<string, never>;
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
            at_path: components["schemas"]["WayStep"][];
        };
        /** @description Something measured and not held against the model. */
        PassedOver: {
            /** @description Which. */
            quantity: string;
            /** @description By what it was measured. */
            from: string;
            /** @description On the water. */
            measured: components["schemas"]["Number"];
            /** @description Why not. */
            why: string;
        };
        /** @description One step of a path as it stands in JSON: a key or a name, or a place in a list from 0. */
        PathStep: string | number;
        /** @description The most of everything. */
        Peaks: {
            /**
             * Format: double
             * @description Up at the balance point, g.
             */
            up_g: number;
            /**
             * Format: double
             * @description Up at the bow, g.
             */
            bow_g: number;
            /**
             * Format: double
             * @description Sideways, g.
             */
            across_g: number;
            /** @description Of each part. */
            forces: components["schemas"]["Load"][];
        };
        /** @description A piece. */
        PieceTold: {
            /** @description Its name. */
            name: string;
            /** @description The boat's axis that points up while it prints: `+x`. */
            up: string;
            /** @description The same in words. */
            lies: string;
            /** @description On the bed: width, depth, height. */
            size: components["schemas"]["Number"][];
            /** @description Of the print. */
            mass: components["schemas"]["Number"];
            /** @description Whether it was on a scale. */
            weighed: boolean;
            /** @description On the printer. */
            time: components["schemas"]["Number"];
            /** @description Of filament. */
            filament: components["schemas"]["Number"];
            cost?: components["schemas"]["Number"] | null;
            /** @description Of surface that needs support. */
            support: components["schemas"]["Number"];
            /** @description Where it may leak. */
            notes: string[];
        };
        /** @description The pieces. */
        PiecesAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description What the printer can print: width, depth, height. */
            bed: components["schemas"]["Number"][];
            /** @description Whether the builder gave it. */
            bed_given: boolean;
            /** @description Stern first. */
            pieces: components["schemas"]["PieceTold"][];
            /** @description Between them. */
            joints: components["schemas"]["JointTold"][];
            /** @description Of all pieces. */
            mass: components["schemas"]["Number"];
            /** @description On the printer. */
            time: components["schemas"]["Number"];
            /** @description Of filament. */
            filament: components["schemas"]["Number"];
            cost?: components["schemas"]["Number"] | null;
            /** @description What else to know. */
            notes: string[];
            /** @description Where the files are; nothing when they were only listed. */
            folder?: string | null;
            /** @description Files written. */
            files: string[];
            /** @description Of each piece, in the order of `pieces`; empty unless asked for. */
            shapes?: components["schemas"]["Shape"][];
        };
        /** @description What pieces does it print in? */
        PiecesAsk: {
            /**
             * @description Folder to write the files to; `pieces` in the boat folder when absent. Nothing older is written over.
             * @default null
             */
            into?: string | null;
            /**
             * @description Only list them.
             * @default false
             */
            list_only?: boolean;
            /**
             * @description Also tell the shape of each, to draw it.
             * @default false
             */
            shapes?: boolean;
        };
        /** @description One thing wrong with a text, and where. */
        Place: {
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
            /** @description Whether the text can be used all the same. */
            warning: boolean;
        };
        /** @description A place, boat axes. */
        Point: {
            /** @description Ahead of the transom. */
            x: components["schemas"]["Number"];
            /** @description To port. */
            y: components["schemas"]["Number"];
            /** @description Above the transom's bottom edge. */
            z: components["schemas"]["Number"];
        };
        /** @description What happens on the pond. */
        PondAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description What the condition is. */
            condition: string;
            /** @description As the ask would say it. */
            water: string;
            /** @description In words. */
            wind: string;
            /** @description What the driver does. */
            hands: string;
            /** @description `rest`, or a speed. */
            start: string;
            /**
             * Format: int64
             * @description Of the ripple.
             */
            seed: number;
            /** @description What happened, in order. */
            events: components["schemas"]["Happened"][];
            /** @description The most of everything. */
            peaks: components["schemas"]["Peaks"];
            /** @description Why it ended early. */
            stopped?: string | null;
            /** @description What to take from it. */
            says: string[];
            runs?: components["schemas"]["Counted"] | null;
            /** @description How often it ends upside down, by speed and ripple. */
            odds: components["schemas"]["OddsAt"][];
            /** @description What all this rests on. */
            rests_on: string;
            /** @description The water. */
            surface: components["schemas"]["Water"];
            /** @description The course of it. */
            trace: components["schemas"]["Trace"];
            learned?: components["schemas"]["Carried"] | null;
        };
        /** @description What happens on the pond? */
        PondAsk: {
            /**
             * @description Ready condition to start from: `launch`, `straight`, `ripple`, `gusty`, `wake`, `turn-left`, `turn-right`.
             * @default launch
             */
            condition?: string;
            /**
             * @description `flat`, `ripple=20mm`, `waves=40mm,1.5m` or `wake=40mm,0.8m`, with `,from=SIDE`.
             * @default null
             */
            water?: string | null;
            /**
             * @description Speed and side: `5m/s,from=ahead`.
             * @default null
             */
            wind?: string | null;
            /**
             * @description Held throttle, 0 to 1 or in %; what holds the starting speed unless given.
             * @default null
             */
            throttle?: string | null;
            /**
             * @description `right=12deg,at=2s`; the driver holds the course unless given.
             * @default null
             */
            rudder?: string | null;
            /** @default null */
            script?: components["schemas"]["TextAt"] | null;
            /**
             * @description `rest`, `top`, or a speed.
             * @default null
             */
            start?: string | null;
            /**
             * Format: double
             * @description How long.
             * @default 20
             */
            seconds?: number;
            /**
             * Format: int64
             * @description Seed of the ripple: the same seed gives the same answer to the byte.
             * @default 1
             */
            seed?: number;
            /**
             * Format: int32
             * @description Count how so many runs end, with seeds from `seed` on.
             * @default 1
             */
            runs?: number;
            /**
             * @description Also: how often it ends upside down, by speed and ripple.
             * @default false
             */
            odds?: boolean;
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
        /** @description A number that was predicted. */
        Predicted: {
            /** @description Of the finding. */
            id: string;
            /** @description How it stood. */
            standing: components["schemas"]["Standing"];
            /** @description What it was. */
            number: components["schemas"]["Number"];
        };
        /** @description Pulses that are missing. */
        PulseLoss: {
            /**
             * Format: double
             * @description From.
             */
            from_s: number;
            /**
             * Format: double
             * @description To.
             */
            to_s: number;
            /** @description How many. */
            frames: number;
            /**
             * Format: double
             * @description Last width before.
             */
            width_before_s: number;
            /**
             * Format: double
             * @description First width after.
             */
            width_after_s: number;
        };
        /** @description What servo pulses told. */
        PulsesAnswer: components["schemas"]["Analysis"] & {
            /** @description How many. */
            pulses: number;
            /** @description Of a width no servo has. */
            odd_widths: number;
            /** @description Too short for a pulse. */
            runts: number;
            /** @description Shortest and longest. */
            width_range_s: [
                number,
                number
            ];
            /**
             * Format: double
             * @description Of a width that is held.
             */
            width_jitter_s: number;
            /**
             * Format: double
             * @description Of the time between pulses.
             */
            frame_jitter_s: number;
            /** @description Where pulses are missing. */
            losses: components["schemas"]["PulseLoss"][];
            /**
             * Format: double
             * @description What the receiver gives without the transmitter.
             */
            failsafe_width_s?: number | null;
            /**
             * Format: double
             * @description How far the slow edges shift a width.
             */
            read_shift_s?: number | null;
        };
        /** @description What does a capture of servo pulses tell? What is not given comes from the notes of the outing it lies in. */
        PulsesAsk: {
            /**
             * @description The capture.
             * @default
             */
            file?: string;
            /**
             * @description Column of the level, from 0.
             * @default null
             */
            level_column?: number | null;
            /**
             * Format: double
             * @description Samples a second, for a table without times.
             * @default null
             */
            sample_rate_hz?: number | null;
            /**
             * Format: double
             * @description What one unit of the time column is, s.
             * @default null
             */
            time_unit_s?: number | null;
        };
        /** @description A force on the hull, from below or above. */
        PushView: {
            /**
             * Format: double
             * @description Ahead of the transom, m.
             */
            x_m: number;
            /**
             * Format: double
             * @description Where it meets the hull, m.
             */
            z_m: number;
            /** @description How much. */
            force: components["schemas"]["NumberView"];
            /** @description From above. */
            down: boolean;
        };
        /**
         * @description What was measured.
         * @enum {string}
         */
        QuantityKind: "speed" | "shaft_speed" | "current" | "voltage" | "power" | "charge" | "motor_temperature" | "controller_temperature" | "other_temperature" | "throttle" | "trim" | "heel" | "hop_frequency" | "hop_acceleration" | "landing_acceleration" | "flight_time" | "turn_radius" | "lateral_acceleration" | "pass_distance" | "lap_time" | "distance" | "pulse_width" | "frame_period" | "edge_time_constant";
        /** @description A limit reached. */
        Reached: {
            /** @description Of which part. */
            part: string;
            /** @description When. */
            after: components["schemas"]["Number"];
            /** @description Its temperature. */
            limit: components["schemas"]["Number"];
        };
        /** @description How a mesh is to be read where its file does not tell, or is guessed wrong. */
        ReadAs: {
            /**
             * @description `mm`, `cm`, `m` or `in`; by its size unless given.
             * @default null
             */
            unit?: string | null;
            /**
             * @description Axis of the file that points to the bow, `+x`; by its shape unless given.
             * @default null
             */
            forward?: string | null;
            /**
             * @description Axis of the file that points up; by its shape unless given.
             * @default null
             */
            up?: string | null;
        };
        /** @description Something that happened. */
        RecordedEvent: {
            /** @description File name of the recording. */
            recording: string;
            /** @description What. */
            kind: components["schemas"]["EventKind"];
            /**
             * Format: int32
             * @description Number among its kind in that recording, from 1.
             */
            number: number;
            /** @description When on the recording's clock, s. */
            time_s: components["schemas"]["Measured"];
        };
        /** @description A course against time. */
        RecordedTrace: {
            /** @description What it shows. */
            name: string;
            /** @description Unit of its values. */
            unit: components["schemas"]["MeasuredUnit"];
            /** @description Time on the recording's clock (s), value, standard uncertainty (0 where not known). */
            points: [
                number,
                number,
                number
            ][];
        };
        /**
         * @description Kinds of recording.
         * @enum {string}
         */
        RecordingKind: "sound" | "marks" | "track" | "log" | "pulses" | "other";
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
            problems: components["schemas"]["Place"][];
        };
        /** @description The page, and what it says as data. */
        ReportAnswer: {
            /** @description What the boat will do. */
            check: components["schemas"]["CheckAnswer"];
            /** @description HTML that needs nothing else. */
            page: string;
        };
        /** @description What will the boat do, on a page? */
        ReportAsk: {
            /**
             * @description How hard to look.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
            /** @default null */
            units?: components["schemas"]["Units"] | null;
        };
        /** @description A number of every build. */
        Row: {
            /** @description Of the finding that predicts it; nothing for what is measured alone. */
            id?: string | null;
            /** @description `Top speed`. */
            label: string;
            /** @description One a build, in their order. */
            cells: components["schemas"]["Cell"][];
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
        /** @description A joint across the length. */
        SeamView: {
            /**
             * Format: double
             * @description m ahead of the transom.
             */
            x_m: number;
            /** @description `lap`, `flange` or `butt`. */
            kind: string;
        };
        /** @description A section across the hull. */
        Section: {
            /** @description Ahead of the transom. */
            x: components["schemas"]["Number"];
            /** @description Inside its outline. */
            area: components["schemas"]["Number"];
            /** @description Widest, from the middle. */
            half_beam: components["schemas"]["Number"];
            /** @description Lowest. */
            bottom: components["schemas"]["Number"];
            /** @description Highest. */
            top: components["schemas"]["Number"];
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
            units?: components["schemas"]["Units"] | null;
            /** @description Its folder. */
            folder?: string | null;
            /** @description The demonstration boat it is a scratch copy of. */
            demo?: string | null;
            /** @description What should be known of what was tried out before: what could not be read, or was found twice. */
            remarks: string[];
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
        /** @description What each drive was given. */
        SetUp: {
            /** @description Propellers. */
            drives: number;
            /** @description Of the propeller. */
            diameter: components["schemas"]["Number"];
            /**
             * Format: double
             * @description Pitch over diameter.
             */
            pitch_ratio: number;
            /** @description Of the motor. */
            kv: components["schemas"]["Number"];
            /** @description Of the motor's can. */
            motor_diameter: components["schemas"]["Number"];
            /** @description Of the motor's can. */
            motor_length: components["schemas"]["Number"];
            /** @description Of each pack. */
            capacity: components["schemas"]["Number"];
            /** @description Of the controller. */
            rated_current: components["schemas"]["Number"];
        };
        /** @description What a base may be. */
        ShaftReading: {
            /** @description `shaft_rate`, `blade_rate` or `electrical_rate`. */
            base_is: string;
            /**
             * Format: double
             * @description The base over the shaft's rate.
             */
            times_shaft: number;
        };
        /** @description A piece in place with its joints, boat axes. */
        Shape: {
            /** @description Corners, x, y, z one after the other, hundredths of a millimetre. */
            corners: number[];
            /** @description Triangles: three corners each, from 0. */
            triangles: number[];
        };
        /** @description A recording's clock against another's. */
        SharedClock: {
            /** @description File name of the recording. */
            recording: string;
            /** @description File name of the one it is held against. */
            against: string;
            /** @description Add this to the recording's times to get the other's, s. */
            offset_s: components["schemas"]["Measured"];
            /** @description Events both show; 0 where both know the time of day. */
            shared: number;
            /** @description What to know about it. */
            remark?: string | null;
        };
        /** @description The page. */
        SheetAnswer: {
            /** @description HTML that needs nothing else, to print on A4 or Letter. */
            page: string;
        };
        /** @description What goes where, in which order? */
        SheetAsk: {
            /**
             * @description How hard to look.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
            /** @default null */
            units?: components["schemas"]["Units"] | null;
        };
        /**
         * @description A side of a clash.
         * @enum {string}
         */
        Side: "mine" | "theirs";
        /** @description One length, with the best propeller and motor that were found for it. */
        Size: {
            /** @description Whether it is the one in the folder. */
            chosen: boolean;
            /** @description Transom to bow. */
            length: components["schemas"]["Number"];
            /** @description Greatest. */
            beam: components["schemas"]["Number"];
            /** @description All-up. */
            mass: components["schemas"]["Number"];
            /** @description Of the print. */
            print_mass: components["schemas"]["Number"];
            /** @description Of the print. */
            print_time: components["schemas"]["Number"];
            freeboard?: components["schemas"]["Number"] | null;
            planes_from?: components["schemas"]["Number"] | null;
            top_speed?: components["schemas"]["Number"] | null;
            flight_margin?: components["schemas"]["Number"] | null;
            /** @description `coarse`, `closer` or `everything`. */
            asked: string;
            /** @description What it misses, in words; with everything asked, what says stop too. */
            misses: string[];
        };
        /** @description A boat folder made, and why it is as it is. */
        SizeAnswer: {
            /** @description The boat file. */
            made: string;
            /** @description The hull's mesh. */
            mesh: string;
            /** @description Of the boat. */
            name: string;
            /** @description Which type of hull. */
            hull_type: string;
            /** @description As asked: everything but the printed hull. */
            carry: components["schemas"]["Number"];
            /**
             * Format: int32
             * @description As asked.
             */
            cells: number;
            /** @description As asked. */
            speed: components["schemas"]["Number"];
            /** @description Numbers to give first, since common practice put them in. */
            give_first: components["schemas"]["Give"][];
            /** @description What was put in for each drive. */
            set_up: components["schemas"]["SetUp"];
            /** @description Lengths, shortest first; one is chosen. */
            sizes: components["schemas"]["Size"][];
            /** @description Why this size, a sentence each. */
            why: string[];
            /** @description What stands in the way of the wish, a sentence each; empty where it is reached. */
            in_the_way: string[];
            fitted?: components["schemas"]["FittedMesh"] | null;
            verdict?: components["schemas"]["Verdict"] | null;
            /** @description How many boats were tried, and what was asked of them. */
            tried: components["schemas"]["TriedTold"][];
            /** @description Whether it was cut short: the best until then was kept. */
            stopped: boolean;
        };
        /** @description How big must it be, and where does everything go? */
        SizeAsk: {
            /** @description Folder to make; it must not exist, or be empty. */
            dir: string;
            /** @description `three-point`, `outrigger`, `vee` or `catamaran`; may be left out for a mesh, whose shape tells it. */
            hull?: string | null;
            /**
             * Format: double
             * @description Mass of everything but the printed hull, kg.
             */
            carry_kg: number;
            /**
             * Format: int32
             * @description Cells in series of each pack.
             */
            cells: number;
            /**
             * Format: double
             * @description Top speed wanted, m/s.
             */
            speed_m_s: number;
            /**
             * Format: double
             * @description Only this length, m.
             */
            length_m?: number | null;
            /** @description The builder's own mesh, to be kept as it is. */
            fit?: string | null;
            /** @description Name of the boat; the folder's name unless given. */
            name?: string | null;
            /** @description How hard to look at what was chosen. */
            effort?: components["schemas"]["Effort"];
        };
        /** @description A hull to size. */
        SizeAsked: {
            /** @description The builder's name for it; the folder is named after it. */
            name: string;
            /** @description `three-point`, `outrigger`, `vee` or `catamaran`. */
            hull: string;
            /**
             * Format: double
             * @description Everything but the printed hull, kg.
             */
            carry_kg: number;
            /**
             * Format: int32
             * @description Cells in series of each pack.
             */
            cells: number;
            /**
             * Format: double
             * @description Top speed wished for, m/s.
             */
            speed_m_s: number;
        };
        /** @description What warms most after stopping. */
        Soak: {
            /** @description Which part. */
            part: string;
            /**
             * Format: double
             * @description By how much, K.
             */
            rise_k: number;
            /** @description How long after stopping. */
            after: components["schemas"]["Number"];
        };
        /**
         * @description How a job stands.
         * @enum {string}
         */
        Stage: "running" | "done" | "failed" | "stopped";
        /**
         * @description How a finding stands, worst first.
         * @enum {string}
         */
        Standing: "stop" | "watch" | "unsure" | "good";
        /** @description A starter hull. */
        StarterView: {
            /** @description As `[hull.starter] type` names it. */
            hull: string;
            /** @description In a sentence. */
            says: string;
        };
        /** @description A running state. */
        State: {
            /** @description Through the water. */
            speed: components["schemas"]["Number"];
            /** @description Over 100 %: the drive cannot hold this speed. */
            throttle: components["schemas"]["Number"];
            /** @description Bow up positive. */
            trim: components["schemas"]["Number"];
            /** @description Starboard down positive. */
            heel: components["schemas"]["Number"];
            /** @description Of the transom's bottom edge above the still water; negative below it. */
            rise: components["schemas"]["Number"];
            /** @description To hold the speed. */
            thrust_needed: components["schemas"]["Number"];
            /** @description At full throttle at this speed and attitude. */
            thrust_available: components["schemas"]["Number"];
            /** @description Each running surface. */
            wetted: components["schemas"]["Wetted"][];
            /** @description Each drive. */
            drives: components["schemas"]["Drive"][];
        };
        /** @description A place along the hull. */
        StationView: {
            /**
             * Format: double
             * @description Ahead of the transom, m.
             */
            x_m: number;
            /**
             * Format: double
             * @description Strength over stress under the worst load there; 99 at most.
             */
            margin: number;
            /** @description Which load. */
            load: string;
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
        /** @description One change, with what it does. */
        Step: {
            /** @description `Battery 10 mm forward`. */
            what: string;
            /** @description How much work. */
            work: components["schemas"]["Work"];
            /** @description Changes of the boat file that do it; empty for one that is built. */
            edits: components["schemas"]["Edit"][];
            /** @description Findings it mends or eases, worst first. */
            mends: string[];
            /** @description What moves the right way. */
            gains: components["schemas"]["Effect"][];
            /** @description What it costs elsewhere, without going over a limit. */
            costs: components["schemas"]["Effect"][];
            helps?: components["schemas"]["Helps"] | null;
        };
        /** @description One change with what it does. */
        StepView: {
            /** @description `Battery 10 mm forward`. */
            what: string;
            /** @description `minutes`, `an evening`, `days` or `a week`. */
            work: string;
            /** @description What moves the right way. */
            gains: components["schemas"]["EffectView"][];
            /** @description What it costs elsewhere. */
            costs: components["schemas"]["EffectView"][];
            /** @description The edits that try it, for PUT /api/whatif; empty for one that is built. */
            edits: components["schemas"]["EditAsked"][];
        };
        /** @description How a run goes. */
        StintAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description Which drive; empty for the only one. */
            drive: string;
            /** @description What the throttle did. */
            script: string;
            top_speed?: components["schemas"]["Number"] | null;
            hump_current?: components["schemas"]["Number"] | null;
            /** @description What came of it. */
            summary: components["schemas"]["Summary"];
            soak?: components["schemas"]["Soak"] | null;
            /** @description The same run with something wrong. */
            what_if: components["schemas"]["WhatIf"][];
            /** @description What would be worth measuring, most first. */
            measure_next: components["schemas"]["MeasureNext"][];
            /** @description Numbers of the heat that nobody gave. */
            assumed: components["schemas"]["Assumed"][];
            /** @description From a fifth to full, at 1C. */
            charge_time: components["schemas"]["Number"];
            /** @description How to treat lithium packs. */
            care: string[];
            /** @description The course of it. */
            samples: components["schemas"]["Instant"][];
            learned?: components["schemas"]["Carried"] | null;
        };
        /** @description How does a run go, until the pack is spent? */
        StintAsk: {
            /**
             * @description What the throttle does.
             * @default {
             *       "named": "flat-out"
             *     }
             */
            script?: components["schemas"]["Hands"];
            /**
             * @description Ask only these; all of them when empty.
             * @default []
             */
            what_if?: string[];
            /**
             * Format: int32
             * @description Watch for so long after stopping, s.
             * @default 120
             */
            soak?: number;
            /**
             * @description Which drive, by its name; the first unless given.
             * @default null
             */
            drive?: string | null;
        };
        /** @description Whether it holds. */
        StrengthView: {
            /** @description Of the text it was worked out from. */
            revision: string;
            /** @description The plastic it prints in. */
            material: string;
            /** @description Why nothing is told, in a sentence; nothing where it is. */
            open?: string | null;
            /** @description The worst at each place along the hull, stern first. */
            stations: components["schemas"]["StationView"][];
            /** @description Worst first. */
            margins: components["schemas"]["MarginView"][];
            /** @description What presses on the hull in the load of the worst margin, stern first; empty where that does not bend the whole. */
            acting: components["schemas"]["PushView"][];
            bow?: components["schemas"]["BowView"] | null;
            /** @description What a crash breaks first. */
            crashes: components["schemas"]["CrashView"][];
            /** @description What would change the worst of them; empty where nothing is near its limit. */
            levers: components["schemas"]["LeverView"][];
            /** @description Stretches of the hull as they print, stern first. */
            stretches: components["schemas"]["StretchView"][];
            /** @description Joints across the length. */
            joints: components["schemas"]["SeamView"][];
        };
        /** @description A stretch of the hull that prints in one piece, or in pieces side by side. */
        StretchView: {
            /**
             * Format: double
             * @description m ahead of the transom.
             */
            from_m: number;
            /**
             * Format: double
             * @description m ahead of the transom.
             */
            to_m: number;
            /** @description It prints standing: bending pulls its layers apart. */
            standing: boolean;
        };
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
            /** @description What of it was learned on the water: `from what was measured on 17 May 2026`; nothing where nothing was. */
            rests_on?: string | null;
            /** @description What was learned and does not carry to this boat, and why. */
            left_out: string[];
            /** @description What a builder asks first. */
            verdict: components["schemas"]["VerdictView"];
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
        /** @description What came of a run. */
        Summary: {
            /** @description Limits reached, in order. */
            reached: components["schemas"]["Reached"][];
            /** @description How long the pack lasts. */
            time_on_pack: components["schemas"]["Number"];
            /** @description Whether it was spent down to a fifth. */
            reserve_reached: boolean;
            /** @description Of each part. */
            hottest: {
                [key: string]: components["schemas"]["Number"];
            };
            /** @description Of the parts, the one that came nearest to its limit. */
            nearest: components["schemas"]["Nearest"];
            /** @description From the pack, the highest of this run, which takes the boat along its steady states: a launch draws more. */
            most_current: components["schemas"]["Number"];
            /** @description From the pack. */
            energy: components["schemas"]["Number"];
            energy_per_lap?: components["schemas"]["Number"] | null;
            /** @description Run. */
            distance: components["schemas"]["Number"];
            /**
             * Format: double
             * @description What the heat's sums are off by, as a share.
             */
            imbalance: number;
        };
        /** @description A running surface. */
        Surface: {
            /** @description Its name. */
            surface: string;
            /** @description To the bottom's line. */
            angle: components["schemas"]["Number"];
            /** @description Across. */
            beam: components["schemas"]["Number"];
            /** @description From horizontal. */
            deadrise: components["schemas"]["Number"];
            /** @description Where it ends. */
            trailing_edge: components["schemas"]["Point"];
            /** @description Whether it ends in a step. */
            step: boolean;
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
        /** @description A symptom. */
        Symptom: {
            /** @description Stable name. */
            id: string;
            /** @description In words. */
            symptom: string;
            /** @description In whose words or recording. */
            seen_in: string;
            /** @description Likeliest first. */
            causes: components["schemas"]["Cause"][];
            /** @description What should be known about it. */
            note?: string | null;
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
            path: components["schemas"]["WayStep"][];
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
        /** @description A text: in a file, or as it stands here. */
        TextAt: {
            /** @description In this file. */
            file: string;
        } | {
            /** @description This. */
            text: string;
        };
        /** @description Two numbers that the recordings do not tell apart. */
        Tied: {
            /** @description One. */
            a: string;
            /** @description The other. */
            b: string;
            /**
             * Format: double
             * @description Positive: only their difference is known; negative: only their sum or product.
             */
            correlation: number;
        };
        /** @description The changes that cost minutes, searched together. */
        Together: {
            /** @description `Battery 12 mm forward; anything from 8 to 20 mm does as well`. */
            moves: string[];
            /** @description Changes of the boat file that make them. */
            edits: components["schemas"]["Edit"][];
            /** @description Before and after. */
            effects: components["schemas"]["Effect"][];
            /** @description Boats that were tried. */
            tried: number;
        };
        /** @description Recordings on one clock. */
        TogetherAnswer: {
            /** @description Each as it is told alone. */
            recordings: components["schemas"]["Analysis"][];
            /** @description How they stand to each other. */
            clocks: components["schemas"]["SharedClock"][];
            /** @description Those that could not be joined. */
            apart: components["schemas"]["Apart"][];
        };
        /** @description How do the clocks of several recordings stand to each other? */
        TogetherAsk: {
            /**
             * @description Two or more.
             * @default []
             */
            files?: string[];
            /**
             * @description Ends of a line that counts as a pass on a track: degrees north and east of each.
             * @default null
             */
            line?: [
                number,
                number
            ][] | null;
        };
        /** @description What an instrument tells. */
        ToldBy: {
            /** @description Which. */
            by: string;
            /** @description What. */
            value: components["schemas"]["Number"];
        };
        /** @description The course of a run: one list a quantity, at even steps of time. */
        Trace: {
            /**
             * Format: double
             * @description From one value to the next, s.
             */
            step_s: number;
            /** @description m. */
            ahead_m: number[];
            /** @description m. */
            port_m: number[];
            /** @description m. */
            height_m: number[];
            /** @description Bow up positive. */
            trim_deg: number[];
            /** @description Starboard down positive. */
            heel_deg: number[];
            /** @description To the left positive. */
            yaw_deg: number[];
            /** @description km/h. */
            speed_km_h: number[];
            /** @description To the left positive. */
            yaw_rate_deg_s: number[];
            /** @description At the balance point. */
            up_g: number[];
            /** @description At the balance point. */
            across_g: number[];
            /** @description 0 to 1. */
            throttle: number[];
            /** @description To the left positive. */
            rudder_deg: number[];
            /** @description Of the propeller. */
            shaft_rpm: number[];
            /** @description From the pack. */
            current_a: number[];
            /** @description Of the propeller's disc, 0 to 1. */
            immersion: number[];
            /** @description Height of the water under the balance point, m. */
            water_m: number[];
            /** @description 1 where it touches the water. */
            touching: number[];
        };
        /** @description What a track told. */
        TrackAnswer: components["schemas"]["Analysis"] & {
            /** @description Fixes used. */
            fixes: number;
            /** @description Fixes that cannot be. */
            left_out: components["schemas"]["FixLeftOut"][];
            /** @description `receiver` or `places`. */
            speed_from: string;
            /**
             * Format: double
             * @description Usual time between fixes.
             */
            interval_s: number;
            /**
             * Format: double
             * @description Scatter of a place.
             */
            place_sigma_m: number;
        };
        /** @description What does a track tell? What is not given comes from the notes of the outing it lies in. */
        TrackAsk: {
            /**
             * @description The track.
             * @default
             */
            file?: string;
            /**
             * @description Ends of a lap line: degrees north and east of each.
             * @default null
             */
            line?: [
                number,
                number
            ][] | null;
            /**
             * Format: double
             * @description Crossings closer together are one, s.
             * @default null
             */
            shortest_lap_s?: number | null;
        };
        /** @description So many boats were asked so much. */
        TriedTold: {
            /** @description `coarse`, `closer` or `everything`. */
            asked: string;
            /** @description How many boats. */
            boats: number;
            /** @description What that is, in words. */
            what: string;
        };
        /**
         * @description Which units everything shown is in.
         * @enum {string}
         */
        Units: "metric" | "inch";
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
        /** @description Likely variations behind the spreads. */
        Variations: {
            /** @description Those that were run. */
            run: number;
            /** @description Those asked for that could not be solved. */
            not_solved: number;
        };
        /** @description What a builder asks first. */
        Verdict: {
            /** @description In the order of the builder's questions; what cannot be told is left out. */
            items: components["schemas"]["Item"][];
            next?: components["schemas"]["Step"] | null;
        };
        /** @description What a builder asks first. */
        VerdictView: {
            /** @description In the order of the builder's questions; what cannot be told is left out. */
            items: components["schemas"]["ItemView"][];
            next?: components["schemas"]["StepView"] | null;
        };
        /** @description The water, so that a player can draw it anywhere and at any time: unrounded, since phases grow with distance. */
        Water: {
            /**
             * @description Each sine as amplitude (m), wave number ahead and to port (rad/m), frequency (rad/s) and phase (rad):
             *     `h = sum a cos(k x + l y - w t + p)`.
             */
            sines: number[][];
            /**
             * @description Of a packet: its middle along the course and half its width, m; inside it the sum is multiplied by `cos^2`
             *     of the share of a quarter turn, outside by nothing.
             */
            packet_m?: [
                number,
                number
            ] | null;
            /**
             * @description Where the waves grow from nothing to full along the course, m: the sum is multiplied by `cos^2` of what is
             *     left of a quarter turn.
             */
            growing_m?: [
                number,
                number
            ] | null;
        };
        /** @description One step of a path: a key or a name, or a place in a list from 0. */
        WayStep: string | number;
        /** @description What is wet of a running surface. */
        Wetted: {
            /** @description Its name. */
            surface: string;
            /** @description Along the keel. */
            length: components["schemas"]["Number"];
            /** @description Across. */
            beam: components["schemas"]["Number"];
            /** @description What it carries. */
            lift: components["schemas"]["Number"];
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
        /**
         * @description What happened.
         * @enum {string}
         */
        What: "planes" | "leaves" | "lands" | "hops" | "ventilates" | "hooks" | "trips" | "rolls" | "flips" | "dives";
        /** @description The run with something wrong. */
        WhatIf: {
            /** @description Its name. */
            what: string;
            /** @description In words. */
            words: string;
            /** @description What comes of it. */
            summary: components["schemas"]["Summary"];
        };
        /** @description Symptoms and their causes. */
        WhyAnswer: {
            /** @description The builder's name for the boat. */
            boat: string;
            /** @description Each with its causes. */
            symptoms: components["schemas"]["Symptom"][];
            next?: components["schemas"]["Next"] | null;
            /** @description Changes tried on the whole boat that ease what was seen, best first; none where no number tells it. */
            steps: components["schemas"]["Step"][];
            /** @description What all this rests on. */
            basis: string;
        };
        /** @description What went wrong, and why? */
        WhyAsk: {
            /**
             * @description What the boat did, in the builder's words; what an outing's notes say when empty.
             * @default
             */
            words?: string;
            /**
             * @description An outing whose recordings and notes count too.
             * @default null
             */
            outing?: string | null;
            /**
             * @description How hard to look.
             * @default {
             *       "variations": 32,
             *       "seed": 1
             *     }
             */
            effort?: components["schemas"]["Effort"];
        };
        /**
         * @description What set-ups are ranked by.
         * @enum {string}
         */
        Wish: "speed" | "run-time" | "cool";
        /** @description The boat with other parts. */
        With: {
            /** @description What was exchanged. */
            parts: string[];
            /** @description Its verdict. */
            verdict: components["schemas"]["Verdict"];
            /** @description Findings that stand worse than before, worst first: what would break first. */
            worse: components["schemas"]["Finding"][];
            /** @description Findings that stand better. */
            better: components["schemas"]["Finding"][];
        };
        /**
         * @description How much work a change is, least first.
         * @enum {string}
         */
        Work: "minutes" | "evening" | "days" | "week";
        /** @description A number nobody gave that moves an answer. */
        WorthOne: {
            /** @description Which, as among the assumptions: `drive shaft efficiency`. */
            what: string;
            /** @description The answer it moves most: `top speed`. */
            moves: string;
            /**
             * Format: double
             * @description How far it alone moves that answer, over how far all together may, 0 to 1.
             */
            share?: number | null;
        };
        /** @description What is worth measuring first. */
        WorthView: {
            /** @description Of the text it was worked out from. */
            revision: string;
            /** @description Worth most first; empty where no number that nobody gave moves an answer much. */
            first: components["schemas"]["WorthOne"][];
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
                    "application/json": components["schemas"]["BuildsAnswer"];
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
                    "application/json": components["schemas"]["KeepAnswer"];
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
                    "application/json": components["schemas"]["LearnAnswer"];
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
    look_at_mesh: {
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
                    "application/json": components["schemas"]["MeshLook"];
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
                    "application/json": components["schemas"]["LogAnswer"];
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
    come: {
        parameters: {
            query: {
                /** @description All of it. */
                bytes: number;
                /** @description When it was last changed, as the sender knows it: tells it from another of that name and size. */
                stamp?: string;
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
                    "application/json": components["schemas"]["ComingView"];
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
    go_on: {
        parameters: {
            query: {
                /** @description All of it. */
                bytes: number;
                /** @description When it was last changed, as the sender knows it: tells it from another of that name and size. */
                stamp?: string;
            };
            header: {
                /** @description Bytes that are here already, as the request before told. */
                "upload-offset": number;
            };
            path: {
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/partial-upload": string;
            };
        };
        responses: {
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ComingView"];
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
                    "application/json": components["schemas"]["ColumnQuantity"][];
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
                /** @description `metric` or `inch`; as the boat file says unless given. */
                units?: components["schemas"]["Units"];
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
    size: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SizeAsked"];
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
    open_size: {
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
    strength: {
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
                    "application/json": components["schemas"]["StrengthView"];
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
    worth: {
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
                    "application/json": components["schemas"]["WorthView"];
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
