//! In which order things stand on the drawing: storeys from the top, rooms and what is in them in the
//! plan's order, what stands in something or is plugged into it below that.

use std::collections::{HashMap, HashSet};

use crate::house::{House, Node};
use crate::units::plain;

/// How a thing belongs to the one above it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tie {
    /// It stands in it.
    Within,
    /// It draws its power there.
    Plugged,
}

#[derive(Debug)]
pub struct Storey {
    pub name: String,
    pub rooms: Vec<Room>,
}

#[derive(Debug)]
pub struct Room {
    /// Index of the room; `None` where the plan does not say.
    pub room: Option<usize>,
    items: Vec<Item>,
}

#[derive(Debug, Clone, Copy)]
pub struct Item {
    pub node: Node,
    /// How many things it stands in, one in the other.
    pub depth: usize,
    pub tie: Option<Tie>,
}

impl Room {
    pub fn name(&self, house: &House<'_>) -> String {
        let id = |room: usize| house.plan.rooms[room].id.to_string();
        self.room.map_or_else(String::new, id)
    }

    /// Items that are wanted, and those that they stand in.
    pub fn wanted(&self, wanted: impl Fn(Node) -> bool) -> impl Iterator<Item = &Item> {
        let mut kept = vec![false; self.items.len()];
        // From the end: whatever is kept keeps the nearest item before it that is less deep.
        let mut above = 0;
        for (index, item) in self.items.iter().enumerate().rev() {
            if item.depth < above || wanted(item.node) {
                kept[index] = true;
                above = item.depth;
            }
        }
        self.items
            .iter()
            .zip(kept)
            .filter_map(|(item, kept)| kept.then_some(item))
    }
}

/// Where a group of things stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Group {
    /// Higher than every room.
    Above,
    Room(usize),
    /// The plan does not say.
    NoRoom,
    /// A circuit whose panel the plan does not say.
    NoPanel,
}

/// Everything that a run may end on, each once.
pub fn storeys(house: &House<'_>) -> Vec<Storey> {
    let plan = house.plan;
    let top = top_of_all(house);
    let mut of = HashMap::new();
    for index in 0..plan.endpoints.len() {
        of.insert(Node::of_endpoint(index), group(house, index, top));
    }
    let mut parents: HashMap<Node, (Node, Tie)> = HashMap::new();
    let mut children: HashMap<Node, Vec<Node>> = HashMap::new();
    for index in 0..plan.endpoints.len() {
        let node = Node::of_endpoint(index);
        if let Some((host, tie)) = host(house, index)
            && host != node
            && of[&host] == of[&node]
        {
            parents.insert(node, (host, tie));
            children.entry(host).or_default().push(node);
        }
    }
    for index in 0..plan.circuits.len() {
        let node = Node::of_circuit(index);
        match house.standing_endpoint(node) {
            Ok(panel) => {
                let panel = Node::of_endpoint(panel);
                of.insert(node, of[&panel]);
                parents.insert(node, (panel, Tie::Within));
                children.entry(panel).or_default().push(node);
            }
            Err(_) => {
                of.insert(node, Group::NoPanel);
            }
        }
    }
    let nodes: Vec<Node> = (0..plan.endpoints.len())
        .map(Node::of_endpoint)
        .chain((0..plan.circuits.len()).map(Node::of_circuit))
        .collect();
    let mut items: HashMap<Group, Vec<Item>> = HashMap::new();
    let mut placed = HashSet::new();
    // Whatever stands in a circle has no first thing; it is begun anywhere.
    for circles in [false, true] {
        for node in &nodes {
            if circles || !parents.contains_key(node) {
                let into = items.entry(of[node]).or_default();
                descend(*node, &parents, &children, &mut placed, into);
            }
        }
    }
    in_storeys(house, items)
}

fn descend(
    root: Node,
    parents: &HashMap<Node, (Node, Tie)>,
    children: &HashMap<Node, Vec<Node>>,
    placed: &mut HashSet<Node>,
    into: &mut Vec<Item>,
) {
    let mut open = vec![(root, 0)];
    while let Some((node, depth)) = open.pop() {
        if !placed.insert(node) {
            continue;
        }
        into.push(Item {
            node,
            depth,
            tie: parents
                .get(&node)
                .filter(|_| depth > 0)
                .map(|(_, tie)| *tie),
        });
        let below = children.get(&node).map_or(&[][..], Vec::as_slice);
        open.extend(below.iter().rev().map(|child| (*child, depth + 1)));
    }
}

/// What an endpoint stands in, else the outlet that it is plugged into.
fn host(house: &House<'_>, endpoint: usize) -> Option<(Node, Tie)> {
    let endpoint = &house.plan.endpoints[endpoint];
    if let Some(host) = endpoint.within.value() {
        return Some((Node::of_endpoint(host.at()), Tie::Within));
    }
    let outlet = endpoint.at_outlet.value()?.0.first()?;
    Some((Node::of_endpoint(outlet.value.at()), Tie::Plugged))
}

fn group(house: &House<'_>, endpoint: usize, top: Option<f64>) -> Group {
    if let Ok(room) = house.want_room(endpoint) {
        return Group::Room(room);
    }
    let height = house.standing(endpoint).point.map(|point| point[2].base());
    match height.zip(top) {
        Some((height, top)) if height > top => Group::Above,
        _ => Group::NoRoom,
    }
}

/// The highest ceiling, in metre.
fn top_of_all(house: &House<'_>) -> Option<f64> {
    let ceilings = house.plan.rooms.iter().filter_map(|room| {
        let (origin, size) = (room.origin.value()?, room.size.value()?);
        Some(origin.0[2].base() + size.0[2].base())
    });
    ceilings.max_by(f64::total_cmp)
}

fn in_storeys(house: &House<'_>, mut items: HashMap<Group, Vec<Item>>) -> Vec<Storey> {
    let plan = house.plan;
    let floor = |room: usize| plan.rooms[room].floor.value().map(|floor| floor.0);
    let mut rooms: Vec<usize> = (0..plan.rooms.len()).collect();
    // Stable: rooms of one storey keep the plan's order. Those of no storey come last.
    rooms.sort_by(|a, b| match (floor(*a), floor(*b)) {
        (Some(a), Some(b)) => b.total_cmp(&a),
        (a, b) => b.is_some().cmp(&a.is_some()),
    });
    let mut storeys: Vec<Storey> = Vec::new();
    let mut add = |name: String, group: Group, room: Option<usize>| {
        let Some(items) = items.remove(&group) else {
            return;
        };
        let room = Room { room, items };
        match storeys.last_mut() {
            Some(storey) if storey.name == name => storey.rooms.push(room),
            _ => storeys.push(Storey {
                name,
                rooms: vec![room],
            }),
        }
    };
    add("Above all rooms".to_owned(), Group::Above, None);
    for room in rooms {
        let name = floor(room).map_or_else(
            || "Storey not said".to_owned(),
            |floor| format!("Storey {}", plain(floor)),
        );
        add(name, Group::Room(room), Some(room));
    }
    add("Room not said".to_owned(), Group::NoRoom, None);
    add("Panel not said".to_owned(), Group::NoPanel, None);
    storeys
}
