//! Elements of the page. Text goes in through [`Node::text`] and [`Node::attr`] only, and both
//! escape it, so nothing a boat file says can become markup.
//!
//! Written so that it reads the same as HTML and as XML: every element is closed, every attribute
//! quoted, and characters XML has no place for are replaced.

use boat::Units;
use std::fmt::Write as _;

/// HTML elements that have no content.
const VOID: [&str; 4] = ["meta", "br", "hr", "col"];

/// An element with its attributes and content.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    name: &'static str,
    attributes: Vec<(&'static str, String)>,
    children: Vec<Child>,
}

#[derive(Debug, Clone, PartialEq)]
enum Child {
    Node(Node),
    Text(String),
    /// Ours, compiled in.
    Verbatim(&'static str),
}

impl Node {
    /// An empty element.
    pub fn new(name: &'static str) -> Self {
        Self {
            name,
            attributes: Vec::new(),
            children: Vec::new(),
        }
    }

    /// With an attribute.
    pub fn attr(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.attributes.push((name, value.into()));
        self
    }

    /// With a class.
    pub fn class(self, value: impl Into<String>) -> Self {
        self.attr("class", value)
    }

    /// With more text.
    pub fn text(mut self, text: impl Into<String>) -> Self {
        self.children.push(Child::Text(text.into()));
        self
    }

    /// With one more element inside.
    pub fn with(mut self, child: Node) -> Self {
        self.push(child);
        self
    }

    /// With every element of `children` inside.
    pub fn with_all(mut self, children: impl IntoIterator<Item = Node>) -> Self {
        self.children.extend(children.into_iter().map(Child::Node));
        self
    }

    /// With text of our own that is not to be escaped: the style sheet.
    pub fn verbatim(mut self, text: &'static str) -> Self {
        self.children.push(Child::Verbatim(text));
        self
    }

    /// Adds an element inside.
    pub fn push(&mut self, child: Node) {
        self.children.push(Child::Node(child));
    }

    /// With every number that has a unit in the units chosen: in running text, and in tables whose headings say it.
    pub fn in_units(mut self, units: Units) -> Self {
        if units == Units::Metric {
            return self;
        }
        if self.name == "table" {
            self.columns_in(units);
        }
        for (name, value) in &mut self.attributes {
            if *name == "aria-label" {
                *value = units.in_words(value).into_owned();
            }
        }
        self.children = (self.children.into_iter())
            .map(|child| match child {
                Child::Node(node) => Child::Node(node.in_units(units)),
                Child::Text(text) => Child::Text(units.in_words(&text).into_owned()),
                verbatim => verbatim,
            })
            .collect();
        self
    }

    fn columns_in(&mut self, units: Units) {
        let mut metric = Vec::new();
        if let Some(row) = self.child("thead").and_then(|head| head.child("tr")) {
            for cell in row.nodes() {
                let (heading, unit) = units.heading(cell.words());
                let heading = heading.into_owned();
                cell.say(heading);
                metric.push(unit);
            }
        }
        let Some(body) = self.child("tbody") else {
            return;
        };
        for row in body.nodes() {
            for (cell, unit) in row.nodes().zip(&metric) {
                if let Some(unit) = unit {
                    let turned = units.cell(cell.words(), unit).into_owned();
                    cell.say(turned);
                }
            }
        }
    }

    fn nodes(&mut self) -> impl Iterator<Item = &mut Node> {
        self.children.iter_mut().filter_map(|child| match child {
            Child::Node(node) => Some(node),
            _ => None,
        })
    }

    fn child(&mut self, name: &str) -> Option<&mut Node> {
        self.nodes().find(|node| node.name == name)
    }

    /// Its text where it has nothing else in it.
    fn words(&self) -> &str {
        match self.children.as_slice() {
            [Child::Text(text)] => text,
            _ => "",
        }
    }

    fn say(&mut self, words: String) {
        if let [Child::Text(text)] = self.children.as_mut_slice() {
            *text = words;
        }
    }

    fn write(&self, out: &mut String) {
        let _ = write!(out, "<{}", self.name);
        for (name, value) in &self.attributes {
            let _ = write!(out, " {name}=\"{}\"", escape(value));
        }
        if VOID.contains(&self.name) || (self.children.is_empty() && is_shape(self.name)) {
            out.push_str("/>");
            return;
        }
        out.push('>');
        // A line break between elements, never inside running text.
        let block = self.children.iter().all(|c| matches!(c, Child::Node(_)));
        for child in &self.children {
            if block {
                out.push('\n');
            }
            match child {
                Child::Node(node) => node.write(out),
                Child::Text(text) => out.push_str(&escape(text)),
                Child::Verbatim(text) => out.push_str(text),
            }
        }
        if block && !self.children.is_empty() {
            out.push('\n');
        }
        let _ = write!(out, "</{}>", self.name);
    }
}

impl std::fmt::Display for Node {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut out = String::new();
        self.write(&mut out);
        f.write_str(&out)
    }
}

fn is_shape(name: &str) -> bool {
    matches!(
        name,
        "path" | "line" | "rect" | "circle" | "ellipse" | "polygon" | "polyline" | "use"
    )
}

/// `text` with everything that means something to a browser or an XML reader made harmless.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' => out.push(c),
            // Marks that turn the direction of text could make a number read backwards.
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{fffe}' | '\u{ffff}' => {
                out.push('\u{fffd}');
            }
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_become_markup() {
        let node = Node::new("p")
            .attr("title", "\"><script>")
            .text("</p><img src=x onerror='alert(1)'> & \u{0}\u{202e}");
        assert_eq!(
            node.to_string(),
            "<p title=\"&quot;&gt;&lt;script&gt;\">&lt;/p&gt;&lt;img src=x \
             onerror=&#39;alert(1)&#39;&gt; &amp; \u{fffd}\u{fffd}</p>"
        );
    }

    #[test]
    fn empty_elements_are_closed_as_html_wants_them() {
        assert_eq!(Node::new("br").to_string(), "<br/>");
        assert_eq!(Node::new("td").to_string(), "<td></td>");
        let line = Node::new("line").attr("x1", "1");
        assert_eq!(line.to_string(), "<line x1=\"1\"/>");
    }
}
