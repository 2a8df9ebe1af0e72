//! The structure: which marks are headings, paragraphs, tables, figures.

use crate::draw::{Leaf, Node, Role};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, Node as TagNode, SpanTag, TableHeaderScope, Tag,
    TagGroup, TagKind, TagTree,
};
use std::collections::BTreeMap;
use std::num::{NonZeroU16, NonZeroU32};

/// The writer's identifier of each mark.
pub(super) struct Ids(BTreeMap<Leaf, Identifier>);

impl Ids {
    pub(super) const fn new() -> Self {
        Self(BTreeMap::new())
    }

    /// Opens a mark on the page.
    pub(super) fn start(&mut self, leaf: Option<Leaf>, said: Option<&str>, surface: &mut Surface<'_>) {
        match leaf {
            Some(leaf) => {
                let id = surface.start_tagged(ContentTag::Span(SpanTag::empty().with_actual_text(said)));
                self.0.insert(leaf, id);
            }
            None => {
                surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)));
            }
        }
    }

    /// The tree of marks drawn so far.
    pub(super) fn tree(mut self, root: Vec<Node>) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
        for node in root {
            if let Some(child) = self.node(node) {
                tree.push(child);
            }
        }
        tree
    }

    fn node(&mut self, node: Node) -> Option<TagNode> {
        match node {
            Node::Leaf(leaf) => self.0.remove(&leaf).map(TagNode::Leaf),
            Node::Group(role, children) => {
                // Exactly as many as needed: for a long wing, the cells of its tables are most of the memory.
                let mut inside = Vec::with_capacity(children.len());
                inside.extend(children.into_iter().filter_map(|child| self.node(child)));
                Some(TagNode::Group(TagGroup::with_children(kind(role), inside)))
            }
        }
    }
}

fn kind(role: Role) -> TagKind {
    match role {
        Role::Section => Tag::Section.into(),
        Role::Heading(level, title) => {
            Tag::Hn(NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN), Some(title)).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::Table => Tag::Table.into(),
        Role::TableHead => Tag::THead.into(),
        Role::TableBody => Tag::TBody.into(),
        Role::Row => Tag::TR.into(),
        Role::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        Role::Cell(columns) => Tag::TD.with_col_span(NonZeroU32::new(columns).filter(|n| n.get() > 1)).into(),
        Role::Figure(about) => Tag::Figure(Some(about)).into(),
    }
}
