//! The riser: storeys as bands, in them rooms, in them a row for each circuit and endpoint; each run
//! an upright stroke from row to row in a lane of its own.
//!
//! A row and a stroke meet at a right angle and are joined only where a dot says so, so however
//! many runs there are, no two lie on each other and none hides a name. Rows keep the plan's own
//! order, so a drawing changes where the plan does. Runs of one service lie side by side; more than
//! fit on a sheet go on to the next one.

mod lanes;
mod order;
mod symbol;

use std::collections::HashSet;

use textwrap::core::display_width;

use crate::findings::Level;
use crate::house::{House, Node};
use crate::plan::{Service, Sort, Thing};

pub use order::Tie;
pub use symbol::{Family, letter};

/// Runs, and circuits and endpoints together, beyond which nothing is drawn: nobody could read it.
pub const MOST: usize = 400;

/// Distances of the drawing, in its own units (at full size a unit is a CSS pixel).
pub const ROW: i32 = 26;
pub const STOREY: i32 = 24;
pub const ROOM: i32 = 22;
pub const INDENT: i32 = 16;
/// Advance of a letter in the names of rows and of runs.
pub const LETTER: i32 = 7;
pub const SMALL_LETTER: i32 = 6;
/// The height of a number at a stroke, and its width in a row.
pub const TAG: i32 = 15;
pub const TAG_WIDTH: i32 = 23;
/// From a stroke's upper dot up to the top of its name.
pub const HEAD: i32 = 19;
/// Numbers that one thing carries; of more it is said that there are more.
pub const MOST_TAGS: usize = 3;
/// Letters of a name that are drawn.
pub const ROW_NAME: usize = 24;
pub const RUN_NAME: usize = 9;
/// Steps to the right; what stands deeper stands no further right.
const DEEPEST: usize = 6;
/// Width that the lanes of a sheet may take.
const LANES: i32 = 560;

/// An observation that concerns a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flag {
    pub number: usize,
    pub level: Level,
}

/// A whole riser.
#[derive(Debug)]
pub struct Riser {
    pub sheets: Vec<Sheet>,
    /// Runs that lack an end, or lead from a thing to itself.
    pub undrawn: Vec<usize>,
    /// What stands on no sheet, since no run ends on it.
    pub left_out: Vec<Node>,
}

/// One drawing.
#[derive(Debug)]
pub struct Sheet {
    pub services: Vec<Option<Service>>,
    pub storeys: Vec<Band>,
    pub rooms: Vec<Band>,
    pub rows: Vec<Row>,
    pub strokes: Vec<Stroke>,
    /// Where the lanes begin.
    pub lanes_from: i32,
    pub size: [i32; 2],
}

/// A storey, or a room in it.
#[derive(Debug)]
pub struct Band {
    pub name: String,
    pub top: i32,
    pub bottom: i32,
    pub flags: Vec<Flag>,
}

/// A circuit or an endpoint.
#[derive(Debug)]
pub struct Row {
    pub node: Node,
    pub name: String,
    pub family: Family,
    pub x: i32,
    pub y: i32,
    /// To the row that it belongs to: how, and where that is.
    pub tie: Option<(Tie, [i32; 2])>,
    /// Where its line to the strokes begins and ends, if any stroke ends here.
    pub line: Option<[i32; 2]>,
    pub flags: Vec<Flag>,
}

/// A run.
#[derive(Debug)]
pub struct Stroke {
    pub run: usize,
    pub name: String,
    pub service: Option<Service>,
    pub spare: bool,
    pub x: i32,
    /// Heights of the rows that it comes from and leads to.
    pub from: i32,
    pub to: i32,
    pub flags: Vec<Flag>,
}

impl Stroke {
    pub fn top(&self) -> i32 {
        self.from.min(self.to)
    }

    pub fn bottom(&self) -> i32 {
        self.from.max(self.to)
    }

    /// Where its name and numbers begin, above its upper end.
    fn head(&self) -> i32 {
        self.top() - HEAD - tags(&self.flags) * TAG
    }
}

/// How many numbers are drawn.
fn tags(flags: &[Flag]) -> i32 {
    i32::try_from(flags.len().min(MOST_TAGS + 1)).unwrap_or(0)
}

impl Riser {
    /// Draws a house. `flags` tells which observations concern a thing. `None` where the plan has
    /// nothing to draw, or more than [`MOST`].
    pub fn of(house: &House<'_>, flags: &dyn Fn(Thing) -> Vec<Flag>) -> Option<Self> {
        let plan = house.plan;
        let nodes = plan.circuits.len() + plan.endpoints.len();
        if nodes == 0 || nodes > MOST || plan.runs.len() > MOST {
            return None;
        }
        let order = order::storeys(house);
        let drawn = |run: &usize| house.ends(*run).is_some_and(|(from, to)| from != to);
        let (mut runs, undrawn): (Vec<usize>, Vec<usize>) = (0..plan.runs.len()).partition(drawn);
        runs.sort_by_key(|run| place(house.service(*run)));
        let whole = Sheet::of(house, &order, &runs, true, flags);
        let parts = lanes::parts(&whole.strokes, LANES / whole.pitch());
        if parts.len() <= 1 {
            return Some(Self {
                sheets: vec![whole],
                undrawn,
                left_out: Vec::new(),
            });
        }
        let sheets: Vec<Sheet> = parts
            .iter()
            .map(|part| Sheet::of(house, &order, part, false, flags))
            .collect();
        let on_sheet: HashSet<Node> = sheets
            .iter()
            .flat_map(|sheet| sheet.rows.iter().map(|row| row.node))
            .collect();
        let all = whole.rows.iter().map(|row| row.node);
        Some(Self {
            left_out: all.filter(|node| !on_sheet.contains(node)).collect(),
            sheets,
            undrawn,
        })
    }
}

/// Services in the order of the language, what is not said last.
fn place(service: Option<Service>) -> usize {
    service.map_or(usize::MAX, |service| service as usize)
}

impl Sheet {
    /// Some runs and the rows that they end on; with `every` all rows.
    fn of(
        house: &House<'_>,
        order: &[order::Storey],
        runs: &[usize],
        every: bool,
        flags: &dyn Fn(Thing) -> Vec<Flag>,
    ) -> Self {
        let mut sheet = Self {
            services: Vec::new(),
            storeys: Vec::new(),
            rooms: Vec::new(),
            rows: Vec::new(),
            strokes: Vec::new(),
            lanes_from: 0,
            size: [0, 0],
        };
        let ends: HashSet<Node> = runs
            .iter()
            .filter_map(|run| house.ends(*run))
            .flat_map(|(from, to)| [from, to])
            .collect();
        sheet.place_rows(house, order, |node| every || ends.contains(&node), flags);
        sheet.place_runs(house, runs, flags);
        sheet
    }

    fn place_rows(
        &mut self,
        house: &House<'_>,
        order: &[order::Storey],
        wanted: impl Fn(Node) -> bool,
        flags: &dyn Fn(Thing) -> Vec<Flag>,
    ) {
        let mut y = 0;
        for storey in order {
            let top = y;
            y += STOREY;
            let before = self.rows.len();
            for room in &storey.rooms {
                let (room_top, first) = (y, self.rows.len());
                let name = cut(&room.name(house), ROW_NAME);
                y += if name.is_empty() { ROW / 4 } else { ROOM };
                // The row at each depth above the next one.
                let mut above: Vec<[i32; 2]> = Vec::new();
                for item in room.wanted(&wanted) {
                    above.truncate(item.depth);
                    let x = 22 + INDENT * i32::try_from(above.len().min(DEEPEST)).unwrap_or(0);
                    let at = [x, y + ROW / 2];
                    self.rows.push(Row {
                        node: item.node,
                        name: cut(house.id(item.node).as_str(), ROW_NAME),
                        family: Family::of(house, item.node),
                        x,
                        y: at[1],
                        tie: item.tie.zip(above.last().copied()),
                        line: None,
                        flags: flags(item.node.thing()),
                    });
                    above.push(at);
                    y += ROW;
                }
                if self.rows.len() == first {
                    y = room_top;
                    continue;
                }
                self.rooms.push(Band {
                    name,
                    top: room_top,
                    bottom: y,
                    flags: room
                        .room
                        .map_or_else(Vec::new, |room| flags(Thing::new(Sort::Room, room))),
                });
            }
            if self.rows.len() == before {
                y = top;
                continue;
            }
            y += 6;
            self.storeys.push(Band {
                name: storey.name.clone(),
                top,
                bottom: y,
                flags: Vec::new(),
            });
        }
        self.size[1] = y;
    }

    fn place_runs(
        &mut self,
        house: &House<'_>,
        runs: &[usize],
        flags: &dyn Fn(Thing) -> Vec<Flag>,
    ) {
        let heights: std::collections::HashMap<Node, usize> = self
            .rows
            .iter()
            .enumerate()
            .map(|(index, row)| (row.node, index))
            .collect();
        for run in runs {
            let Some((from, to)) = house.ends(*run) else {
                continue;
            };
            let height = |node| heights.get(&node).map(|row| self.rows[*row].y);
            let (Some(from), Some(to)) = (height(from), height(to)) else {
                continue;
            };
            let entry = &house.plan.runs[*run];
            self.strokes.push(Stroke {
                run: *run,
                name: cut(entry.id.as_str(), RUN_NAME),
                service: house.service(*run),
                spare: house.is_spare(*run),
                x: 0,
                from,
                to,
                flags: flags(Thing::new(Sort::Run, *run)),
            });
        }
        let ends = self.rows.iter().map(Row::end);
        let ends = ends.chain(self.rooms.iter().map(Band::end));
        self.lanes_from = ends.max().unwrap_or(0).max(150) + 14;
        let pitch = self.pitch();
        let lanes = lanes::pack(&mut self.strokes);
        for stroke in &mut self.strokes {
            stroke.x = self.lanes_from + pitch / 2 + pitch * stroke.x;
            for end in [stroke.from, stroke.to] {
                if let Some(row) = self.rows.iter_mut().find(|row| row.y == end) {
                    let begins = row.end();
                    let [_, ends] = row.line.unwrap_or([begins, begins]);
                    row.line = Some([begins, ends.max(stroke.x)]);
                }
            }
            if !self.services.contains(&stroke.service) {
                self.services.push(stroke.service);
            }
        }
        self.size[0] = self.lanes_from + pitch * lanes + 10;
        let highest = self.strokes.iter().map(Stroke::head).min().unwrap_or(0);
        self.lower((4 - highest).max(0));
    }

    /// The distance between lanes: the longest name at a stroke has to fit.
    fn pitch(&self) -> i32 {
        let names = self.strokes.iter().map(|stroke| columns(&stroke.name));
        let longest = names.max().unwrap_or(0);
        (longest * SMALL_LETTER + 8).max(30)
    }

    /// Moves everything down.
    fn lower(&mut self, by: i32) {
        for band in self.storeys.iter_mut().chain(&mut self.rooms) {
            band.top += by;
            band.bottom += by;
        }
        for row in &mut self.rows {
            row.y += by;
            if let Some((_, at)) = &mut row.tie {
                at[1] += by;
            }
        }
        for stroke in &mut self.strokes {
            stroke.from += by;
            stroke.to += by;
        }
        self.size[1] += by;
    }
}

impl Band {
    /// Where its name ends, and the numbers behind it begin.
    pub fn name_end(&self) -> i32 {
        10 + LETTER * columns(&self.name)
    }

    fn end(&self) -> i32 {
        self.name_end() + 6 + tags(&self.flags) * TAG_WIDTH
    }
}

impl Row {
    /// Where its name ends, and the numbers behind it begin.
    pub fn name_end(&self) -> i32 {
        self.x + 14 + LETTER * columns(&self.name)
    }

    fn end(&self) -> i32 {
        self.name_end() + 6 + tags(&self.flags) * TAG_WIDTH
    }
}

/// How many letters' room a name takes; those of some scripts take that of two.
fn columns(name: &str) -> i32 {
    i32::try_from(display_width(name)).unwrap_or(0)
}

/// A name that is not too long to be drawn.
fn cut(name: &str, most: usize) -> String {
    if display_width(name) <= most {
        return name.to_owned();
    }
    let mut start = String::new();
    for c in name.chars() {
        start.push(c);
        if display_width(&start) >= most {
            start.pop();
            break;
        }
    }
    start.push('…');
    start
}
