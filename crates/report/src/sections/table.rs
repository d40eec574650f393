//! Tables.

use crate::node::Node;

/// A table of this many rows is kept on one page.
const SHORT: usize = 24;

/// Rows under headings; every column but the first is numbers, set to the right.
pub struct Table {
    caption: String,
    headings: Vec<String>,
    rows: Vec<Node>,
}

impl Table {
    /// A table without rows.
    pub fn new(caption: impl Into<String>, headings: &[&str]) -> Self {
        Self {
            caption: caption.into(),
            headings: headings.iter().map(|h| (*h).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// One more column.
    pub fn heading(&mut self, heading: impl Into<String>) {
        self.headings.push(heading.into());
    }

    /// One more row; its first cell is its heading.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.classed_row("", cells);
    }

    /// One more row that looks different.
    pub fn classed_row<S: Into<String>>(
        &mut self,
        class: &str,
        cells: impl IntoIterator<Item = S>,
    ) {
        let mut row = Node::new("tr");
        if !class.is_empty() {
            row = row.class(class);
        }
        for (i, cell) in cells.into_iter().enumerate() {
            row.push(match i {
                0 => Node::new("th").attr("scope", "row").text(cell),
                _ => Node::new("td").text(cell),
            });
        }
        self.rows.push(row);
    }

    /// The element, in a box that scrolls sideways on a small screen.
    pub fn node(self) -> Node {
        let head = self
            .headings
            .iter()
            .map(|h| Node::new("th").attr("scope", "col").text(h.as_str()));
        let class = if self.rows.len() <= SHORT {
            "wide keep"
        } else {
            "wide"
        };
        Node::new("div").class(class).with(
            Node::new("table")
                .with(Node::new("caption").text(self.caption))
                .with(Node::new("thead").with(Node::new("tr").with_all(head)))
                .with(Node::new("tbody").with_all(self.rows)),
        )
    }
}

/// Something that opens.
pub fn opens(summary: &str, inside: impl IntoIterator<Item = Node>) -> Node {
    Node::new("details")
        .with(Node::new("summary").text(summary))
        .with_all(inside)
}
