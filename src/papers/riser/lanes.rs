//! Strokes side by side: as few lanes as can be, those of one service together.

use super::Stroke;

/// Room between the end of a stroke and the head of the next one in its lane.
const GAP: i32 = 10;

/// Gives each stroke its lane as `x`, from 0. Returns how many lanes there are. Strokes of one
/// service stand together in `strokes`.
pub fn pack(strokes: &mut [Stroke]) -> i32 {
    let mut lanes = 0;
    for of_service in strokes.chunk_by_mut(|a, b| a.service == b.service) {
        let mut order: Vec<usize> = (0..of_service.len()).collect();
        order.sort_by_key(|at| (of_service[*at].head(), -of_service[*at].bottom()));
        // Where the last stroke of each lane ends. In the order of their heads, the first lane
        // that is free leaves as few as there must be.
        let mut ends: Vec<i32> = Vec::new();
        for at in order {
            let stroke = &mut of_service[at];
            let free = ends.iter().position(|end| end + GAP <= stroke.head());
            let lane = free.unwrap_or(ends.len());
            if lane == ends.len() {
                ends.push(0);
            }
            ends[lane] = stroke.bottom();
            stroke.x = lanes + i32::try_from(lane).unwrap_or(0);
        }
        lanes += i32::try_from(ends.len()).unwrap_or(0);
    }
    lanes
}

/// Which runs go on a sheet together, of strokes that [`pack`] has given their places: whole services
/// as long as `most` lanes hold them, a service that needs more on sheets of its own.
pub fn parts(strokes: &[Stroke], most: i32) -> Vec<Vec<usize>> {
    let mut parts: Vec<(i32, Vec<usize>)> = Vec::new();
    for of_service in strokes.chunk_by(|a, b| a.service == b.service) {
        let mut order: Vec<&Stroke> = of_service.iter().collect();
        order.sort_by_key(|stroke| stroke.x);
        let mut lanes: Vec<&[&Stroke]> = order.chunk_by(|a, b| a.x == b.x).collect();
        let fits = |used: i32, lanes: &[&[&Stroke]]| {
            i32::try_from(lanes.len()).is_ok_and(|count| used + count <= most)
        };
        if parts.last().is_none_or(|(used, _)| !fits(*used, &lanes)) {
            parts.push((0, Vec::new()));
        }
        while !lanes.is_empty() {
            let Some((used, runs)) = parts.last_mut() else {
                break;
            };
            let room = usize::try_from(most - *used).unwrap_or(0).max(1);
            let rest = lanes.split_off(room.min(lanes.len()));
            *used += i32::try_from(lanes.len()).unwrap_or(0);
            runs.extend(
                lanes
                    .iter()
                    .flat_map(|lane| lane.iter().map(|stroke| stroke.run)),
            );
            lanes = rest;
            if !lanes.is_empty() {
                parts.push((0, Vec::new()));
            }
        }
    }
    parts.into_iter().map(|(_, runs)| runs).collect()
}
