//! Reads a plan: names first, then everything, so that references are known as they are met.

use serde_json::{Value, json};

use super::catalogue::{self, Library};
use super::field::{Entry, Field};
use super::names::{self, Names};
use super::patterns;
use super::reader::{Reader, Slot};
use super::record::{self, Record, record};
use super::refs::{Sort, Thing, Things};
use super::shape::{List, Notes, Shape, Text, Version};
use super::wording::{LONGEST_ID, is_unseen};
use super::{
    Building, Circuit, Code, Endpoint, Pathway, Region, Room, Run, Stage, Stock, Variance, check,
};
use crate::findings::{Finding, Id};
use crate::schema::{Defs, Schema};
use crate::yaml::{FileId, NodeId, Sources, Span};

/// Ids of the mistakes that reading reports; their sheets stand in `rules/reading/`.
pub const MISTAKES: &[&str] = &[
    "plan.catalogue-unread",
    "plan.duplicate-id",
    "plan.duplicate-key",
    "plan.goes-nowhere",
    "plan.in-itself",
    "plan.lost-alias",
    "plan.missing-key",
    "plan.nested-too-deep",
    "plan.no-such-id",
    "plan.no-unit",
    "plan.out-of-range",
    "plan.outside-room",
    "plan.route-unlike",
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
        @needed "nailplate" nailplate: Version,
        /// What the plan is for.
        "title" title: Text,
        /// Number of the drawing.
        "drawing" drawing: Text,
        /// Issue of the drawing.
        "issue" issue: Text,
        /// Which limits and tables apply.
        @needed "region" region: Region,
        /// Edition of the code; NEC 2023 if left out (us).
        "code" code: Code,
        /// Reaction-to-fire class that cables must reach.
        "fire-class" fire_class: Text,
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

impl<T: InSection> Schema for Section<T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({
            "type": "object",
            "propertyNames": {"minLength": 1, "maxLength": LONGEST_ID, "pattern": patterns::SEEN},
            "additionalProperties": record::schema_of::<T>(defs),
        })
    }
}

impl<T: InSection> Shape for Section<T> {
    const WANTS: &'static str = "things by name";
    /// The entries are those that `Names` has collected, so that every name has its thing.
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        if !reader.source.tree.is_map(node) {
            let write = format!(
                "`id: {{…}}` for each {}",
                T::WHAT.trim_start_matches("an ").trim_start_matches("a ")
            );
            reader.wrong_kind(node, "things by name", &write);
            return None;
        }
        let has_odd_keys = reader.names.has_odd_keys(T::SORT);
        if has_odd_keys {
            // Mistakes of its merge keys, which collecting the names does not report.
            reader.named(node);
        }
        let outer = (
            reader.on.clone(),
            reader.at,
            std::mem::take(&mut reader.path),
        );
        reader.in_section = true;
        let count = reader.names.of(T::SORT).len();
        let mut entries = Vec::with_capacity(count);
        for index in 0..count {
            let (slot, via) = reader.names.of(T::SORT)[index];
            entries.push(reader.by_way_of(via, |reader| section_entry::<T>(reader, slot, index)));
        }
        (reader.on, reader.at, reader.path) = outer;
        reader.in_section = false;
        if has_odd_keys {
            no_keys(reader, node);
        }
        Some(Self(entries))
    }
}

/// Reports the keys of a section that are no scalars, which have no entry.
fn no_keys(reader: &mut Reader<'_>, section: NodeId) {
    let source = reader.source;
    for (key, _) in source.tree.entries(section) {
        if !source.tree.is_scalar(key) {
            reader.no_key(key);
        }
    }
}

fn section_entry<T: InSection>(reader: &mut Reader<'_>, slot: Slot, index: usize) -> Entry<T> {
    let source = reader.source;
    let name = source.text_of(slot.key);
    let named = reader.things.first(name);
    let id = match named {
        _ if name.is_empty() => Id::new("(no id)"),
        Some((id, ..)) => id.clone(),
        None => Id::new(name),
    };
    let at = reader.span(slot.key);
    (reader.on, reader.at) = (id.clone(), at);
    if name.is_empty() || name.chars().nth(LONGEST_ID).is_some() || name.chars().any(is_unseen) {
        reader.bad_id(slot.key, name);
    }
    let first = if T::SORT == Sort::Stock {
        reader.first_stock
    } else {
        0
    };
    let thing = Thing::new(T::SORT, first + index);
    if let Some((_, taken, place)) = named
        && taken != thing
        && !name.is_empty()
    {
        reader.duplicate_id(slot.key, name, place);
    }
    let own = source.tree.is_map(slot.value) && !reader.is_shared();
    let body = if source.tree.is_empty_scalar(slot.value) {
        // The place of nothing is that of the id.
        reader.nothing_stated(slot.key, T::WHAT);
        None
    } else {
        reader
            .stated::<Boxed<T>>(slot.value)
            .map(|stated| stated.value.0)
    };
    Entry {
        id,
        span: at,
        map: own.then_some(slot.value),
        body: body.unwrap_or_default(),
    }
}

/// A record read as a value.
struct Boxed<T>(T);

impl<T: Record> Schema for Boxed<T> {
    fn schema(defs: &mut Defs) -> Value {
        record::schema_of::<T>(defs)
    }
}

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
    pub code: Field<Code>,
    pub fire_class: Field<Text>,
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
    pub usual_unread: Vec<String>,
    /// Sections that hold something of which nothing could be read.
    pub unread_sections: Vec<&'static str>,
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
    let catalogues = catalogue::load(sources, file, library);
    let mut things = Things::default();
    if catalogues.iter().any(|(_, loaded)| loaded.is_err()) {
        things.lose(Sort::Stock);
    }
    let names = Names::collect(sources.file(file), Document::KEYS, &mut things, 0);
    let mut first_stock = names.of(Sort::Stock).len();
    let mut loaded = Vec::new();
    for id in catalogues
        .iter()
        .filter_map(|(_, loaded)| loaded.as_ref().ok())
    {
        let names = Names::collect(sources.file(*id), catalogue::KEYS, &mut things, first_stock);
        let count = names.of(Sort::Stock).len();
        loaded.push((*id, names, first_stock));
        first_stock += count;
    }

    let source = sources.file(file);
    let metric = !names::is_north_american(source);
    let mut reader = Reader::new(source, &things, sources.detours(), metric);
    reader.names = names;
    let document: Document = reader.document();
    let named = document
        .catalogue
        .value()
        .map(|list| list.0.as_slice())
        .unwrap_or_default();
    let usual_unread = catalogue::usual_unread(!document.catalogue.is_absent(), &catalogues);
    let unread = catalogue::unread(sources, named, &catalogues);
    let mut plan = Plan::from_document(document, &reader, usual_unread);
    let (mut findings, detours) = reader.finish();
    findings.extend(unread);
    sources.add_detours(detours);

    for (id, names, first) in loaded {
        let source = sources.file(id);
        let mut reader = Reader::new(source, &things, sources.detours(), metric);
        reader.on = Id::new("catalogue");
        reader.names = names;
        reader.first_stock = first;
        plan.stock.extend(catalogue::stock(&mut reader));
        let (more, detours) = reader.finish();
        findings.extend(more);
        sources.add_detours(detours);
    }
    check::plan(&mut plan, &mut findings);
    (plan, findings)
}

impl Reader<'_> {
    /// The document's topmost mapping as a record.
    pub(crate) fn document<R: Record>(&mut self) -> R {
        let source = self.source;
        for further in source.tree.further() {
            self.second_document(further);
        }
        let Some(root) = source.tree.root() else {
            return R::default();
        };
        self.record(root).unwrap_or_default()
    }

    /// The entries of a section, one for each of its names: where the section could not be read,
    /// which has been reported, things of which nothing is known.
    pub(super) fn section<T: Record>(&self, field: Field<Section<T>>, sort: Sort) -> Vec<Entry<T>> {
        let mut entries = match field {
            Field::Stated(stated) => stated.value.0,
            _ => Vec::new(),
        };
        for (slot, _) in self.names.of(sort).iter().skip(entries.len()) {
            let id = Id::new(self.source.text_of(slot.key));
            entries.push(Entry {
                id,
                span: self.solid(slot.key),
                map: None,
                body: T::default(),
            });
        }
        entries
    }
}

impl Plan {
    fn from_document(document: Document, reader: &Reader<'_>, usual_unread: Vec<String>) -> Self {
        // A missing region has been reported: no check has to complain of it again.
        let region = if document.region.is_absent() {
            Field::Bad
        } else {
            document.region
        };
        let variances = match document.variances {
            Field::Stated(stated) => stated.value.0,
            _ => Vec::new(),
        };
        Self {
            title: document.title,
            drawing: document.drawing,
            issue: document.issue,
            region,
            code: document.code,
            fire_class: document.fire_class,
            building: document.building,
            stage: document.stage,
            rooms: reader.section(document.rooms, Sort::Room),
            stock: reader.section(document.stock, Sort::Stock),
            pathways: reader.section(document.pathways, Sort::Pathway),
            circuits: reader.section(document.circuits, Sort::Circuit),
            endpoints: reader.section(document.endpoints, Sort::Endpoint),
            runs: reader.section(document.runs, Sort::Run),
            variances,
            usual_unread,
            unread_sections: reader.things.unread_sections().collect(),
        }
    }
}
