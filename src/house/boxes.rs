//! What is in the boxes that devices and joints sit in.

use super::topology::{House, Node};
use crate::figures::boxfill::Content;
use crate::findings::Lack;
use crate::plan::{Count, EndpointKind as Kind, Service};
use crate::units::WireSize;

/// What the plan tells of the content of a box.
#[derive(Debug)]
pub struct Boxed {
    /// Without clamps.
    pub content: Content,
    /// Whether clamps are inside, where that is said.
    pub clamps: Result<bool, Lack>,
    /// Runs that end in it, those without known cores too.
    pub runs: Vec<usize>,
    /// What is missing to count everything.
    pub lack: Option<Lack>,
}

impl House<'_> {
    /// Whether an endpoint is a box that power conductors end in: a box, an outlet or a wall
    /// switch, or anything that states a `volume`, unless it stands in another box.
    pub fn is_power_box(&self, index: usize) -> bool {
        self.is_box(index)
            && !self.hosts(index).skip(1).any(|host| self.is_box(host))
            && (self.has_power(index)
                || !self.members[index].is_empty()
                    && self
                        .with_members(index)
                        .iter()
                        .any(|at| self.has_power(*at)))
    }

    fn is_box(&self, index: usize) -> bool {
        let endpoint = &self.plan.endpoints[index];
        let kind = endpoint.kind.value();
        matches!(kind, Some(Kind::Box | Kind::Outlet | Kind::WallSwitch))
            || !endpoint.volume.is_absent()
    }

    fn has_power(&self, index: usize) -> bool {
        let mut runs = self.runs_at(Node::of_endpoint(index));
        runs.any(|run| self.service(run) == Some(Service::Power))
    }

    /// What is in a box: conductors of the power runs that end in it, spare ones too, and devices.
    /// Earthing conductors count as thick as the others of their cable.
    pub fn boxed(&self, index: usize) -> Boxed {
        let endpoint = &self.plan.endpoints[index];
        let inside = self.with_members(index);
        let mut boxed = Boxed {
            content: Content::default(),
            clamps: endpoint
                .clamps
                .want("clamps", &endpoint.id)
                .map(|clamps| clamps.0),
            runs: Vec::new(),
            lack: None,
        };
        for at in &inside {
            for run in self.runs_at(Node::of_endpoint(*at)) {
                if self.service(run) != Some(Service::Power) {
                    continue;
                }
                boxed.runs.push(run);
                let cores = self
                    .want_stock(&self.plan.runs[run])
                    .and_then(|stock| stock.cores.want("cores", &stock.id));
                match cores {
                    Ok(cores) => {
                        add(&mut boxed.content.conductors, cores.size, cores.count);
                        if cores.earth {
                            add(&mut boxed.content.earths, cores.size, 1);
                        }
                    }
                    Err(missing) => boxed.lack = boxed.lack.or(Some(missing)),
                }
            }
        }
        let devices = inside.iter().filter(|at| {
            let kind = self.plan.endpoints[**at].kind.value();
            matches!(kind, Some(Kind::Outlet | Kind::WallSwitch))
        });
        let devices = u32::try_from(devices.count()).unwrap_or(u32::MAX);
        let yokes = match endpoint.yokes.or(Count(devices)) {
            Ok(yokes) => yokes.0,
            Err(lack) => {
                boxed.lack = boxed.lack.or(Some(lack));
                0
            }
        };
        // A device counts by the largest conductor that is connected to it: by the largest here.
        let sizes = boxed.content.conductors.iter().map(|kind| kind.0);
        let largest = sizes.max_by(|a, b| {
            a.area()
                .partial_cmp(&b.area())
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        if let Some(largest) = largest {
            boxed.content.yokes = vec![largest; yokes as usize];
        }
        boxed
    }
}

/// More of one size.
fn add(kinds: &mut Vec<(WireSize, u32)>, size: WireSize, count: u32) {
    match kinds.iter_mut().find(|kind| kind.0 == size) {
        Some(kind) => kind.1 = kind.1.saturating_add(count),
        None => kinds.push((size, count)),
    }
}
