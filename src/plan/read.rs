//! Reads a plan: names first, then everything, so that references are known as they are met.

use super::catalogue::{self, Library};
use super::field::{Entry, Field};
use super::reader::{Reader, Slot};
use super::record::{Record, record};
use super::refs::{Sort, Thing, Things};
use super::shape::{Count, List, Notes, Shape, Text};
use super::{
    Building, Circuit, Endpoint, Pathway, Region, Room, Run, Stage, Stock, Variance, check,
};
use crate::findings::{Finding, Id};
use crate::yaml::{FileId, NodeId, Source, Sources, Span};

/// Ids of the mistakes that reading reports; their sheets stand in `rules/reading/`.
pub const MISTAKES: &[&str] = &[
    "plan.catalogue-unread",
    "plan.duplicate-id",
    "plan.duplicate-key",
    "plan.goes-nowhere",
    "plan.in-itself",
    "plan.lost-alias",
    "plan.missing-key",
    "plan.no-such-id",
    "plan.no-unit",
    "plan.out-of-range",
    "plan.outside-room",
    "plan.second-document",
    "plan.split-not-whole",
    "plan.tied-too-many",
    "plan.too-many-aliases",
    "plan.unknown-key",
    "plan.unknown-word",
    "plan.unquoted-class",
    "plan.unreadable",
    "plan.wrong-kind",
    "plan.wrong-unit",
    "plan.wrong-version",
];

record! {
    /// A plan as its file has it.
    Document, "a plan" {
        /// Version of the plan language: 1.
        @needed "nailplate" nailplate: Count<1>,
        /// What the plan is for.
        "title" title: Text,
        /// Number of the drawing.
        "drawing" drawing: Text,
        /// Issue of the drawing.
        "issue" issue: Text,
        /// Which limits and tables apply.
        @needed "region" region: Region,
        /// Kind of building.
        "building" building: Building,
        /// How far the work is.
        "stage" stage: Stage,
        /// Other files of `stock:`, shared by many plans.
        "catalogue" catalogue: List<Text>,
        /// Rooms by name.
        "rooms" rooms: Section<Room>,
        /// Kinds of cable by name.
        "stock" stock: Section<Stock>,
        /// Pathways by name.
        "pathways" pathways: Section<Pathway>,
        /// Circuits by name.
        "circuits" circuits: Section<Circuit>,
        /// Endpoints by name.
        "endpoints" endpoints: Section<Endpoint>,
        /// Runs by name.
        "runs" runs: Section<Run>,
        /// Findings knowingly let pass.
        "variances" variances: List<Variance>,
        /// For people.
        "notes" notes: Notes,
    }
}

/// A mapping from ids to things of one sort.
#[derive(Debug)]
pub struct Section<T>(pub Vec<Entry<T>>);

/// The sort of a record that stands in a section.
trait InSection: Record {
    const SORT: Sort;
}

macro_rules! in_section {
    ($($record:ident),*) => { $(impl InSection for $record { const SORT: Sort = Sort::$record; })* };
}
in_section!(Room, Stock, Pathway, Circuit, Endpoint, Run);

impl<T: InSection> Shape for Section<T> {
    const WANTS: &'static str = "things by name";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let source = reader.source;
        if !source.tree.is_map(node) {
            reader.wrong_kind(node, &format!("a mapping from ids to {}s", T::SORT.words().1.split(' ').next_back().unwrap_or("thing")));
            return None;
        }
        let outer = (reader.on.clone(), reader.at, reader.slot.take());
        let mut entries = Vec::new();
        for (slot, via) in reader.named(node) {
            if let Some(entry) = reader.by_way_of(via, |reader| section_entry::<T>(reader, slot, entries.len())) {
                entries.push(entry);
            }
        }
        (reader.on, reader.at, reader.slot) = outer;
        Some(Self(entries))
    }
}

fn section_entry<T: InSection>(reader: &mut Reader<'_>, slot: Slot, index: usize) -> Option<Entry<T>> {
    let source = reader.source;
    if !source.tree.is_scalar(slot.key) {
        reader.wrong_kind(slot.key, "an id");
        return None;
    }
    let name = source.text_of(slot.key);
    let id = Id::new(name);
    let at = reader.span(slot.key);
    (reader.on, reader.at) = (id.clone(), at);
    if name.is_empty() || name.len() > 256 || name.chars().any(char::is_control) {
        reader.bad_id(slot.key);
    }
    let first = if T::SORT == Sort::Stock { reader.first_stock } else { 0 };
    let thing = Thing::new(T::SORT, first + index);
    if let Some((taken, place)) = reader.things.first(name)
        && taken != thing
    {
        reader.duplicate_id(slot.key, name, place);
    }
    let own = source.tree.is_map(slot.value) && !reader.is_shared();
    let body = reader.stated::<Boxed<T>>(slot.value).map(|stated| stated.value.0);
    Some(Entry { id, span: at, map: own.then_some(slot.value), body: body.unwrap_or_default() })
}

/// A record read as a value.
struct Boxed<T>(T);

impl<T: Record> Shape for Boxed<T> {
    const WANTS: &'static str = T::WHAT;
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        reader.record(node).map(Self)
    }
}

/// A plan: everything that its files state.
#[derive(Debug, Default)]
pub struct Plan {
    pub title: Field<Text>,
    pub drawing: Field<Text>,
    pub issue: Field<Text>,
    pub region: Field<Region>,
    pub building: Field<Building>,
    pub stage: Field<Stage>,
    pub rooms: Vec<Entry<Room>>,
    /// The plan's own stock first, then that of its catalogues.
    pub stock: Vec<Entry<Stock>>,
    pub pathways: Vec<Entry<Pathway>>,
    pub circuits: Vec<Entry<Circuit>>,
    pub endpoints: Vec<Entry<Endpoint>>,
    pub runs: Vec<Entry<Run>>,
    pub variances: Vec<super::Stated<Variance>>,
}

impl Plan {
    /// The id of a thing.
    pub fn id(&self, thing: Thing) -> &Id {
        match thing.sort {
            Sort::Room => &self.rooms[thing.at()].id,
            Sort::Stock => &self.stock[thing.at()].id,
            Sort::Pathway => &self.pathways[thing.at()].id,
            Sort::Circuit => &self.circuits[thing.at()].id,
            Sort::Endpoint => &self.endpoints[thing.at()].id,
            Sort::Run => &self.runs[thing.at()].id,
        }
    }

    /// The place of a thing's id.
    pub fn place(&self, thing: Thing) -> Span {
        match thing.sort {
            Sort::Room => self.rooms[thing.at()].span,
            Sort::Stock => self.stock[thing.at()].span,
            Sort::Pathway => self.pathways[thing.at()].span,
            Sort::Circuit => self.circuits[thing.at()].span,
            Sort::Endpoint => self.endpoints[thing.at()].span,
            Sort::Run => self.runs[thing.at()].span,
        }
    }
}

/// Reads the plan in `file`, with its catalogues, which are added to `sources`.
///
/// Never fails: what could not be read is among the findings.
pub fn read(sources: &mut Sources, file: FileId, library: &dyn Library) -> (Plan, Vec<Finding>) {
    let (catalogues, unread) = catalogue::load(sources, file, library);
    let mut things = Things::default();
    let counts = name_things(sources.file(file), &mut things, 0);
    let mut first_stock = counts;
    let mut firsts = Vec::new();
    for id in &catalogues {
        firsts.push(first_stock);
        first_stock += name_things(sources.file(*id), &mut things, first_stock);
    }

    let source = sources.file(file);
    let metric = !is_north_american(source);
    let mut reader = Reader::new(source, &things, sources.detours(), metric);
    let document: Document = reader.document();
    for (node, reason) in unread {
        reader.mistake(
            "plan.catalogue-unread",
            node,
            format!("this catalogue could not be read: {reason}"),
            "not read",
            "check the path: it is relative to the folder that the plan is in",
        );
    }
    let mut plan = Plan::from_document(document);
    check::document(&mut reader, &plan);
    let (mut findings, detours) = reader.finish();
    sources.add_detours(detours);

    for (id, first) in catalogues.into_iter().zip(firsts) {
        let source = sources.file(id);
        let mut reader = Reader::new(source, &things, sources.detours(), metric);
        reader.first_stock = first;
        plan.stock.extend(catalogue::stock(&mut reader));
        let (more, detours) = reader.finish();
        findings.extend(more);
        sources.add_detours(detours);
    }
    check::plan(&plan, &mut findings);
    (plan, findings)
}

impl Reader<'_> {
    /// The document's topmost mapping as a record.
    pub(super) fn document<R: Record>(&mut self) -> R {
        let source = self.source;
        if let Some(byte) = source.tree.second_document() {
            self.second_document(byte);
        }
        let Some(root) = source.tree.root() else { return R::default() };
        if let Some((key, _)) = source.tree.entries(root).next() {
            self.at = source.span(key);
        }
        self.record(root).unwrap_or_default()
    }
}

impl Plan {
    fn from_document(document: Document) -> Self {
        fn entries<T>(field: Field<Section<T>>) -> Vec<Entry<T>> {
            match field {
                Field::Stated(stated) => stated.value.0,
                _ => Vec::new(),
            }
        }
        // A missing region has been reported: no check has to complain of it again.
        let region = if document.region.is_absent() { Field::Bad } else { document.region };
        let variances = match document.variances {
            Field::Stated(stated) => stated.value.0,
            _ => Vec::new(),
        };
        Self {
            title: document.title,
            drawing: document.drawing,
            issue: document.issue,
            region,
            building: document.building,
            stage: document.stage,
            rooms: entries(document.rooms),
            stock: entries(document.stock),
            pathways: entries(document.pathways),
            circuits: entries(document.circuits),
            endpoints: entries(document.endpoints),
            runs: entries(document.runs),
            variances,
        }
    }
}

/// Whether the plan's region uses American units, read ahead of everything else because the unit
/// suggested for a bare number depends on it.
fn is_north_american(source: &Source) -> bool {
    let Some(root) = source.tree.root() else { return false };
    source.tree.entries(root).any(|(key, value)| {
        source.text_of(key) == "region" && matches!(source.text_of(value), "us" | "ca")
    })
}

/// Gives every id of a file its thing; returns how many stocks the file has. Sections are counted
/// exactly as [`Section::read`] does it.
fn name_things(source: &Source, things: &mut Things, first_stock: usize) -> usize {
    let none = Things::default();
    let mut reader = Reader::new(source, &none, 0, false);
    let Some(root) = source.tree.root() else { return 0 };
    let mut stocks = 0;
    let mut seen = [false; 6];
    let sorts = [Sort::Room, Sort::Stock, Sort::Pathway, Sort::Circuit, Sort::Endpoint, Sort::Run];
    for (slot, via) in reader.named(root) {
        let key = source.text_of(slot.key);
        let Some(at) = sorts.iter().position(|sort| sort.words().0 == key) else { continue };
        // A section given twice counts once.
        if std::mem::replace(&mut seen[at], true) {
            continue;
        }
        let sort = sorts[at];
        reader.by_way_of(via, |reader| {
            reader.follow(slot.value, |reader, section| {
                let named = reader.named(section);
                things.reserve(named.len());
                let mut index = 0;
                for (slot, _) in named {
                    if !source.tree.is_scalar(slot.key) {
                        continue;
                    }
                    let first = if sort == Sort::Stock { first_stock } else { 0 };
                    let name = Id::new(source.text_of(slot.key));
                    things.name(name, Thing::new(sort, first + index), source.span(slot.key));
                    index += 1;
                }
                if sort == Sort::Stock {
                    stocks = index;
                }
                Some(())
            })
        });
    }
    stocks
}
