"""Store the net's weights at half precision and put it into the package."""

import sys
from pathlib import Path

import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper

HOME = Path(__file__).parent.parent / "src/etchbook/tables/data/first_guess.onnx"


def packed(model: onnx.ModelProto) -> onnx.ModelProto:
    """The same net with its large weights held as float16 and widened again when it is loaded."""
    graph = model.graph
    casts, kept = [], []
    for weight in graph.initializer:
        values = numpy_helper.to_array(weight)
        if values.dtype != np.float32 or values.size < 256:
            kept.append(weight)
            continue
        kept.append(numpy_helper.from_array(values.astype(np.float16), weight.name + "_half"))
        casts.append(helper.make_node("Cast", [weight.name + "_half"], [weight.name], to=TensorProto.FLOAT))
    nodes = list(graph.node)
    del graph.initializer[:], graph.node[:]
    graph.initializer.extend(kept)
    graph.node.extend(casts + nodes)
    # Names of source files and folders of the training machine have no place in the package.
    for node in graph.node:
        node.doc_string = ""
        del node.metadata_props[:]
    onnx.checker.check_model(model)
    return model


if __name__ == "__main__":
    onnx.save(packed(onnx.load(sys.argv[1])), HOME)
    print(f"{HOME.name}: {HOME.stat().st_size / 1e6:.1f} MB")
