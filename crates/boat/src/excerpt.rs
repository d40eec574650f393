//! The part of a text that is drawn around a problem.

use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use std::ops::Deref;

/// Longer lines are not drawn whole, bytes: what draws them counts columns in 16 bits, and nobody reads them.
const LONGEST_LINE: usize = 1000;
/// What is drawn of a long line on each side of the problem, bytes.
const AROUND: usize = 60;

/// A text whose long lines are cut around the problem when they are drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Excerpt(String);

impl Excerpt {
    /// Of this text.
    pub fn new(text: String) -> Self {
        Self(text)
    }

    /// Whether a line of the bytes `start..end`, or one beside it, is too long to be drawn.
    fn is_long(&self, start: usize, end: usize) -> bool {
        let mut above = self.0[..start].rsplit('\n').map(str::len);
        let mut below = self.0[end..].split('\n').map(str::len);
        let line = above.next().unwrap_or(0) + (end - start) + below.next().unwrap_or(0);
        let beside = above.next().max(below.next()).unwrap_or(0);
        line.max(beside) > LONGEST_LINE
    }
}

impl Deref for Excerpt {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        lines_before: usize,
        lines_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let text = &self.0;
        let start = text.floor_char_boundary(span.offset());
        let end = text.ceil_char_boundary(span.offset() + span.len());
        if !self.is_long(start, end) {
            return text.read_span(span, lines_before, lines_after);
        }
        let line_start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
        let line_end = text[end..]
            .find('\n')
            .map_or(text.len(), |length| end + length);
        let reach = |lines: usize| if lines == 0 { 0 } else { AROUND };
        let from = text.floor_char_boundary(start.saturating_sub(reach(lines_before)));
        let from = from.max(line_start);
        let to = text
            .ceil_char_boundary(end + reach(lines_after))
            .min(line_end);
        Ok(Box::new(MietteSpanContents::new(
            &text.as_bytes()[from..to],
            (from, to - from).into(),
            text[..from].matches('\n').count(),
            text[line_start..from].chars().count(),
            text.matches('\n').count() + 1,
        )))
    }
}
