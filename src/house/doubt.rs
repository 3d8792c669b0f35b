//! What is not known about the graph of shields and earths.

use super::topology::{House, Node};
use crate::findings::{Id, Lack};

/// What is not known about an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Doubt {
    /// Whether a device is earthed.
    Earthed(u32),
    /// By which circuit an earthed device is.
    Circuit(u32),
    /// Whether what comes in here is bonded.
    Bonded(u32),
    /// Which device an unbalanced run leads to behind a plate.
    Behind { run: u32, plate: u32 },
    /// Whether a run of a line is balanced.
    Balanced(u32),
    /// How a video run is built.
    Build(u32),
    /// Which run of a line goes on as which.
    Way(u32),
}

impl<'p> House<'p> {
    /// The thing that lacks what a doubt is about, and what it lacks.
    pub(super) fn doubt(&self, doubt: Doubt) -> (&'p Id, Lack) {
        let plan = self.plan;
        let endpoint = |at: u32| &plan.endpoints[at as usize];
        let reported = || Lack::Reported;
        let stock = |run: u32| {
            let run = &plan.runs[run as usize];
            self.want_stock(run).map_err(|lack| (&run.id, lack))
        };
        match doubt {
            Doubt::Earthed(at) => {
                let entry = endpoint(at);
                let lack = entry.earthed.want("earthed", &entry.id).err();
                (&entry.id, lack.unwrap_or_else(reported))
            }
            Doubt::Circuit(at) => {
                let id = &endpoint(at).id;
                let fed = self.no_loop(Node::Endpoint(at)).err();
                let lack =
                    fed.unwrap_or_else(|| Lack::absent(format!("a circuit that feeds {id}")));
                (id, lack)
            }
            Doubt::Bonded(at) => {
                let entry = endpoint(at);
                let lack = entry.bonded.want("bonded", &entry.id).err();
                (&entry.id, lack.unwrap_or_else(reported))
            }
            Doubt::Behind { run, plate } => {
                let (run, plate) = (&plan.runs[run as usize].id, &endpoint(plate).id);
                (
                    run,
                    Lack::absent(format!("the device that {run} leads to at {plate}")),
                )
            }
            Doubt::Balanced(run) => stock(run).map_or_else(
                |lack| lack,
                |stock| {
                    let lack = stock.balanced.want("balanced", &stock.id).err();
                    (&stock.id, lack.unwrap_or_else(reported))
                },
            ),
            Doubt::Build(run) => stock(run).map_or_else(
                |lack| lack,
                |stock| {
                    let lack = stock.build.want("build", &stock.id).err();
                    (&stock.id, lack.unwrap_or_else(reported))
                },
            ),
            Doubt::Way(run) => {
                let line = self.lines().of_run[run as usize];
                let line = line.map(|line| &self.lines().lines[line as usize]);
                let lack = line.and_then(|line| self.follow(line).err());
                (&plan.runs[run as usize].id, lack.unwrap_or_else(reported))
            }
        }
    }
}
