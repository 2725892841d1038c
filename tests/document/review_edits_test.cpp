// Findings that were accepted: for how long, and what becomes of them.
#include "engine/document/history.h"
#include "engine/document/job_edits.h"
#include "engine/document/project_file.h"
#include "engine/document/reviewed.h"
#include "engine/document/seam_edits.h"
#include "engine/document/soundness.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

// Two giornate that share an upright seam at u = 1.5, 1 m long; the review has something to say of each.
DocumentRef two_with_findings() {
  auto doc = small_project();
  auto settings = std::make_shared<Document>(*doc);
  settings->settings.calendar.rate_m2_per_h = 0.02;  // far too large for a day
  return settings;
}

std::vector<Finding> found(const Document& doc) {
  Flow flow;
  return *flow.findings(doc, doc.walls[0]->id);
}

const Finding& of_giornata(const std::vector<Finding>& findings, const std::string& rule, GiornataId id) {
  const auto it = std::ranges::find_if(findings, [&](const Finding& f) {
    return f.rule == rule && std::ranges::find(f.giornate, id) != f.giornate.end();
  });
  REQUIRE(it != findings.end());
  return *it;
}

}  // namespace

TEST_CASE("an accepted finding stays accepted until its cause changes, and can be opened again") {
  auto doc = two_with_findings();
  const WallId wall = doc->walls[0]->id;
  const GiornataId one{1}, two{2};
  const Finding large = of_giornata(found(*doc), "too-large", one);
  CHECK_FALSE(large.accepted);
  CHECK_FALSE(accept_finding(*doc, wall, large, "").ok());
  CHECK_FALSE(accept_finding(*doc, wall, large, "  ").ok());
  CHECK_FALSE(accept_finding(*doc, wall, large, "one\ntwo").ok());
  CHECK_FALSE(accept_finding(*doc, WallId{7}, large, "two painters").ok());
  CHECK_FALSE(reopen_finding(*doc, acceptance_of(wall, large, "")).ok());

  const DocumentRef accepted = done(accept_finding(*doc, wall, large, "two painters"));
  CHECK(of_giornata(found(*accepted), "too-large", one).accepted == "two painters");
  CHECK_FALSE(of_giornata(found(*accepted), "too-large", two).accepted);
  CHECK(outdated_acceptances(*accepted, wall, found(*accepted)).empty());
  // The same again has the new reason, once.
  const DocumentRef reworded = done(accept_finding(*accepted, wall, large, "three painters"));
  CHECK(reworded->job().accepted.size() == 1);
  CHECK(of_giornata(found(*reworded), "too-large", one).accepted == "three painters");
  // A note elsewhere leaves it alone.
  CHECK(of_giornata(found(*done(set_parameter(*accepted, "giornata.2.note", "from the left"))), "too-large", one)
            .accepted);

  // Another rate: the hours, its cause, are others.
  const DocumentRef changed = done(set_parameter(*accepted, "rate", "0.03"));
  CHECK_FALSE(of_giornata(found(*changed), "too-large", one).accepted);
  const auto outdated = outdated_acceptances(*changed, wall, found(*changed));
  REQUIRE(outdated.size() == 1);
  CHECK(outdated[0].reason == "two painters");
  // As it was before: accepted again. Or dropped for good.
  CHECK(of_giornata(found(*done(set_parameter(*changed, "rate", "0.02"))), "too-large", one).accepted);
  CHECK(done(reopen_finding(*changed, outdated[0]))->job().accepted.empty());
  CHECK_FALSE(
      of_giornata(found(*done(reopen_finding(*accepted, acceptance_of(wall, large, "")))), "too-large", one).accepted);
}

TEST_CASE("accepting is an edit: undone and done again, gone with its giornata") {
  auto doc = two_with_findings();
  const WallId wall = doc->walls[0]->id;
  const Finding large = of_giornata(found(*doc), "too-large", GiornataId{1});
  const auto edited = accept_finding(*doc, wall, large, "two painters");
  REQUIRE(edited.ok());
  CHECK(edited->did.find("giornata 1") != std::string::npos);
  History history(doc);
  history.push(*edited);
  history.undo();
  CHECK(history.current()->job().accepted.empty());
  history.redo();
  CHECK(history.current()->job().accepted.size() == 1);

  const DocumentRef gone = done(remove_giornata(*edited->document, GiornataId{1}));
  CHECK(gone->job().accepted.empty());
  Flow flow;
  CHECK(document_faults(*gone, flow).empty());
  CHECK(document_faults(*edited->document, flow).empty());
}

TEST_CASE("a finding's code names its cause") {
  const auto doc = two_with_findings();
  const WallId wall = doc->walls[0]->id;
  const auto findings = found(*doc);
  const Finding &one = of_giornata(findings, "too-large", GiornataId{1}),
                &two = of_giornata(findings, "too-large", GiornataId{2});
  CHECK(finding_code(wall, one).size() == 6);
  CHECK(finding_code(wall, one) == finding_code(acceptance_of(wall, one, "any")));
  CHECK(finding_code(wall, one) != finding_code(wall, two));
  CHECK(finding_code(wall, one) != finding_code(WallId{2}, one));
}

TEST_CASE("accepting makes neither plan nor review anew") {
  const auto doc = two_with_findings();
  const WallId wall = doc->walls[0]->id;
  Flow flow;
  const auto plan = flow.plan(*doc);
  const auto before = flow.findings(*doc, wall);
  const DocumentRef accepted = done(accept_finding(*doc, wall, before->front(), "two painters"));
  CHECK(flow.plan(*accepted) == plan);
  const auto after = flow.findings(*accepted, wall);
  REQUIRE(after->size() == before->size());
  CHECK(after->front().accepted == "two painters");
  CHECK_FALSE(flow.findings(*doc, wall)->front().accepted);
}

TEST_CASE("a review holds for another project only where nothing it reads is another") {
  const auto doc = two_with_findings();
  CHECK(reviewed_alike(*doc, *doc));
  const WallId wall = doc->walls[0]->id;
  const DocumentRef accepted = done(accept_finding(*doc, wall, found(*doc).front(), "two painters"));
  CHECK(reviewed_alike(*doc, *accepted));
  CHECK(reviewed_alike(*doc, *done(set_parameter(*doc, "giornata.2.note", "from the left"))));
  CHECK(reviewed_alike(*doc, *done(set_parameter(*doc, "eye.door", "1,-3,1.6"))));
  for (const auto& [key, value] : {std::pair{"rate", "0.5"}, {"tip.mm", "70"}, {"giornata.1.state", "ready"}})
    CHECK_FALSE(reviewed_alike(*doc, *done(set_parameter(*doc, key, value))));
  CHECK_FALSE(reviewed_alike(*doc, *done(remove_giornata(*doc, GiornataId{2}))));
  CHECK_FALSE(reviewed_alike(*doc, *done(add_pair(*doc, {GiornataId{1}, GiornataId{2}, PairKind::before}))));
}

TEST_CASE("a finding with very many stretches is accepted, saved and read again") {
  const auto doc = two_with_findings();
  const WallId wall = doc->walls[0]->id;
  Finding long_one = found(*doc).front();
  for (int k = 0; k < 500; ++k) long_one.stretches.push_back({{0.001 * k, 1}, {0.001 * k, 1.1}, {0.001 * k, 1.2}});
  const DocumentRef accepted = done(accept_finding(*doc, wall, long_one, "seen"));
  const auto read = project_from_text(*project_text(*accepted, "/"), "p", "/");
  REQUIRE(read.ok());
  std::vector<Finding> again{long_one};
  mark_accepted(again, wall, read->document->job().accepted);
  CHECK(again[0].accepted == "seen");
  again[0].stretches[400][1].v += 0.02;
  mark_accepted(again, wall, read->document->job().accepted);
  CHECK_FALSE(again[0].accepted);
}
