//! The plan as a graph: who stands where, what reaches what, what is fed by what.
//!
//! Knows: the typed plan, figures, tables. Must not know: rules, levels, limits of judgement.
//!
//! Built once per review, in linear time. Figures are computed when first asked for and shared by
//! every rule that asks. A figure that cannot be had is a [`Lack`](crate::findings::Lack), never a
//! number.

mod apart;
mod bending;
mod beside;
mod boxes;
mod breaker;
mod bundled;
mod channel;
mod class;
mod clearance;
mod coax;
mod conduit;
mod crowd;
mod data;
mod dip;
mod drop;
mod edition;
mod feeding;
mod framed;
mod guard;
mod heat;
mod home_run;
mod jacket;
mod joint;
mod kin;
mod kinds;
mod length;
mod line;
mod listed;
mod load;
mod mount;
mod naming;
mod nearby;
mod place;
mod places;
mod power;
mod pulling;
mod quantity;
mod quantity_apart;
mod quantity_coax;
mod quantity_data;
mod quantity_pathway;
mod quantity_power;
mod quantity_room;
mod rack;
mod reach;
mod redline;
mod ring;
mod rooms;
mod sharing;
mod sinks;
mod site;
mod space;
mod substitute;
mod supply;
mod tail;
mod tapped;
mod tension;
mod theatre;
mod thicken;
mod topology;
mod video;
mod wet;
mod wiring;

pub use apart::{Apart, Circuits};
pub use bending::{InsideRadius, LeastRadius};
pub use beside::Beside;
pub use boxes::Boxed;
pub use breaker::{Allowed, Basis, RingTerms, Wiring, unsure};
pub use bundled::Bundled;
pub use channel::{Channel, Line, Lines, Step};
pub use class::{Asker, Classes, Declared};
pub use clearance::{Bodies, Front, Seen};
pub use coax::{Branches, CoaxWay, LackOf};
pub use conduit::{Filling, Occupant};
pub use crowd::{Carrying, Crowd, Crowds, Together};
pub use data::{Cords, DATA_CELSIUS, DataChannel, HOTTEST_CELSIUS, LossBounds, Open};
pub use drop::{NodeDrop, Worst};
pub use framed::{Edge, Framed, edge_of};
pub use heat::RackRoom;
pub use home_run::LeadsTo;
pub use jacket::{Asked, FireDemand, Jacket};
pub use joint::Joint;
pub use kin::Kin;
pub use kinds::{
    is_active, is_active_subwoofer, is_consumer, is_passive, is_passive_speaker, is_sink,
};
pub use length::{RunLength, SLACK_FEET, SLACK_SHARE};
pub use line::{ChannelLoop, SIGNAL_CELSIUS};
pub use listed::{Listed, Pull};
pub use load::{CarriedLoad, Demand};
pub use mount::{Mounting, hangs};
pub use nearby::{Nearby, Neighbour};
pub use place::Standing;
pub use places::{MediaRoom, Pulled, RoomPart};
pub use power::{Feed, FeedKind, Power, Reached};
pub use quantity::Quantity;
pub use rack::Landed;
pub use reach::{Reach, Seeker};
pub use rooms::InList;
pub use sharing::Sharing;
pub use sinks::Sinks;
pub use space::{Shell, Space, Spaces};
pub use supply::Supplies;
pub use tail::{Missing, RunWay, Tail};
pub use tapped::Supply;
pub use tension::{PullBasis, PullLimit, Way};
pub use theatre::{Theatre, bed};
pub use thicken::{STIFF, Thicker, is_stiff};
pub use topology::{House, Node};
pub use wiring::{Made, is_cord, is_jacketed, made};
