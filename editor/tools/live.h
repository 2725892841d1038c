// Answers that follow what the pointer asks, worked out on the second thread: one question at a time, then the newest.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <utility>

#include "editor/window/worker.h"

namespace pontata {

template <class Question, class Answer>
class Live {
 public:
  // `work` runs on the worker's thread.
  explicit Live(std::function<Answer(const Question&)> work) : state_(std::make_shared<State>()) {
    state_->work = std::move(work);
  }

  void ask(Worker& worker, Question question) {
    state_->wanted = std::move(question);
    if (!state_->busy) next(state_, worker);
  }
  // Nothing is wanted any more.
  void forget() {
    state_->wanted.reset();
    state_->answer.reset();
    ++state_->round;
  }
  // The last answer, null where there is none.
  const Answer* answer() const { return state_->answer ? &*state_->answer : nullptr; }

 private:
  struct State {
    std::function<Answer(const Question&)> work;
    std::optional<Question> wanted;
    std::optional<Answer> answer;
    bool busy = false;
    long round = 0;
  };

  static void next(const std::shared_ptr<State>& state, Worker& worker) {
    if (!state->wanted) return;
    state->busy = true;
    Question question = std::move(*state->wanted);
    state->wanted.reset();
    worker.start("Following the pointer", false,
                 [state, &worker, question = std::move(question), round = state->round](Progress&) -> Worker::Apply {
                   auto answer = std::make_shared<Answer>(state->work(question));
                   return [state, &worker, answer, round] {
                     state->busy = false;
                     if (round == state->round) state->answer = std::move(*answer);
                     next(state, worker);
                   };
                 });
  }

  std::shared_ptr<State> state_;
};

}  // namespace pontata
