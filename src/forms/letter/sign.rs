//! What nobody but people can do: the caution, the signature, and the reply.

use maud::{Markup, html};

use super::Letter;

pub fn page(letter: Letter<'_>) -> Markup {
    let found = !letter.review.findings.is_empty();
    let line = |words: &str| html! { div.blank { span { (words) } } };
    letter.section(
        "signed",
        "Signed and answered",
        &html! {
            p.caution {
                "This letter judges a plan on paper; nobody has seen the house. Local code and the authority having jurisdiction "
                "decide, and work on mains wiring belongs to a licensed person."
            }
            div.parties {
                div {
                    p.who { "Reviewer" }
                    (line("Name"))
                    (line("Signature"))
                    (line("Date"))
                }
                div {
                    p.who { "Reply of the submitter" }
                    @if found {
                        (line("Put right, by number"))
                        (line("Disputed, by number"))
                        (line("To be let pass, by number"))
                    } @else {
                        (line("Remarks"))
                    }
                    (line("Name and signature"))
                    (line("Date"))
                }
            }
        },
    )
}
